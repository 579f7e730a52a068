import { useState } from "preact/hooks";
import type { Photo } from "../../server/contract/photo.ts";
import type { LeafView } from "../../server/contract/views.ts";
import { address } from "../api.ts";
import { Pick, TextField } from "../fields.tsx";
import { TakePhoto } from "../take-photo.tsx";

const kinds: readonly (readonly [Photo["kind"], string])[] = [
  ["wrapping", "Wrapping"],
  ["label", "Label"],
  ["detail", "Close view of a mark"],
  ["edge", "Edge"],
  ["note", "Signed delivery note"],
  ["stack", "How it is stored"],
];
const kindWords: Readonly<Record<string, string>> = Object.fromEntries(kinds);

/** Photos that show no whole face: evidence for the record. */
export const OtherPhotos = (props: { delivery: string; view: LeafView; face: "A" | "B" }) => {
  const { delivery, view, face } = props;
  const [kind, choose] = useState<Photo["kind"]>(view.leaf.unwrappedAt === null ? "wrapping" : "detail");
  const [note, write] = useState("");
  const taken = view.photos.filter(({ photo }) => photo.kind !== "single" && photo.kind !== "line-up");
  return (
    <>
      {taken.length > 0 && (
        <ul class="thumbs">
          {taken.map(({ photo, damage }) => (
            <li key={photo.id}>
              <a href={address("photoPreview", { delivery, photo: photo.id })} target="_blank" rel="noreferrer">
                <img src={address("photoPreview", { delivery, photo: photo.id })} alt="" loading="lazy" />
                <span>
                  {kindWords[photo.kind] ?? photo.kind}
                  {photo.note && `: ${photo.note}`}
                  {damage !== null && " (photo damaged)"}
                  {photo.flags.map((flag) => (
                    <small key={flag}> {flag}</small>
                  ))}
                </span>
              </a>
            </li>
          ))}
        </ul>
      )}
      <div class="fields">
        <Pick label="It shows" of={kinds} value={kind} onChoose={choose} />
        <TextField label="Note" value={note} onInput={write} />
      </div>
      <TakePhoto
        delivery={delivery}
        label="Take this photo"
        about={{ kind, shows: [{ leaf: view.leaf.code, face, corners: null }], note }}
        quiet
      />
    </>
  );
};
