import type { PhotoSample } from "../sample/photo-sample.ts";
import type { KnownReferences } from "./known-references.ts";

/** Photos and faces that hang together: by a face that two photos show, or by a printed card that stands in both. */
export interface Component {
  readonly photos: readonly string[];
  /** "leaf/face". */
  readonly faces: readonly string[];
  /** A chart or grey card in one of the photos makes the colours true ones; else only differences within are. */
  readonly known: boolean;
  /** Ids of the printed cards that stand in the photos. */
  readonly cards: readonly string[];
}

/** The components, the one with most faces first. Colours of two components compare only when both are `known`. */
export const connect = (photos: readonly PhotoSample[], known: KnownReferences): Component[] => {
  const parent = new Map<string, string>();
  const root = (name: string): string => {
    const up = parent.get(name) ?? name;
    return up === name ? name : root(up);
  };
  const join = (one: string, other: string) => parent.set(root(one), root(other));
  for (const { photo, faces, references } of photos) {
    for (const { leaf, face } of faces) join(`face ${leaf}/${face}`, `photo ${photo}`);
    for (const { kind, id } of references) if (kind === "card") join(`card ${id}`, `photo ${photo}`);
  }
  const components = new Map<string, { photos: string[]; faces: Set<string>; known: boolean; cards: Set<string> }>();
  for (const { photo, faces, references } of photos) {
    const name = root(`photo ${photo}`);
    const component = components.get(name) ?? { photos: [], faces: new Set(), known: false, cards: new Set() };
    components.set(name, component);
    component.photos.push(photo);
    for (const { leaf, face } of faces) component.faces.add(`${leaf}/${face}`);
    for (const { kind, id } of references) if (kind === "card") component.cards.add(id);
    component.known ||= references.some(({ id }) => id in known);
  }
  return [...components.values()]
    .map(({ photos: names, faces, known: isKnown, cards }) => ({
      photos: names,
      faces: [...faces],
      known: isKnown,
      cards: [...cards],
    }))
    .sort((one, other) => other.faces.length - one.faces.length);
};
