import { useLocation } from "preact-iso";
import type { PatternView } from "../../server/contract/views.ts";
import { address } from "../api.ts";
import { Pick } from "../fields.tsx";
import { Icon } from "../icon.tsx";
import { JointEditor } from "../joints/joint-editor.tsx";
import { useStraightPicture } from "../joints/straight-picture.ts";
import { Only } from "../may.tsx";
import { Shown, useView } from "../view.tsx";

type Face = PatternView["faces"][number];

const nameOf = ({ leaf, face }: Face): string => `${leaf}, face ${face}`;

/** Faces by name; further photos of a face are numbered. */
const faceChoices = (faces: readonly Face[]): readonly (readonly [string, string])[] =>
  faces.map((face, index) => {
    const earlier = faces.slice(0, index).filter((one) => nameOf(one) === nameOf(face)).length;
    return [String(index), earlier === 0 ? nameOf(face) : `${nameOf(face)}, photo ${earlier + 1}`];
  });

const Laying = (props: { delivery: string; view: PatternView; leaf: string | undefined; face: string | undefined }) => {
  const { delivery, view } = props;
  const { path, query, route } = useLocation();
  const { pattern, leaves, faces } = view;
  const asked = faces.findIndex(({ leaf, face }) => leaf === props.leaf && face === (props.face ?? "A"));
  const wanted = faces[Number(query.photo)] ? Number(query.photo) : Math.max(0, asked);
  const shown = faces[wanted];
  const picture = useStraightPicture(
    shown ? address("straightFace", { delivery, photo: shown.photo, leaf: shown.leaf, face: shown.face }) : null,
  );
  if (pattern.parts.length === 1)
    return (
      <>
        <h1>
          Joints <span class="quiet">{pattern.name}</span>
        </h1>
        <p>A flush face has no joints.</p>
      </>
    );
  return (
    <>
      <h1>
        Joints <span class="quiet">{pattern.name}</span>
      </h1>
      <p>
        Put each line where the joint is. It holds for{" "}
        {leaves.length > 1 ? `all ${leaves.length} leaves` : "every leaf"} of this pattern and size.
        {pattern.jointsBy && ` Set by ${pattern.jointsBy}.`}
      </p>
      {faces.length > 1 && (
        <Pick
          label="Photo shown"
          of={faceChoices(faces)}
          value={String(wanted)}
          onChoose={(photo) => route(`${path}?leaf=${props.leaf ?? ""}&face=${props.face ?? ""}&photo=${photo}`, true)}
        />
      )}
      {!shown && (
        <p class="plate warn">
          <Icon name="camera" /> No photo of such a leaf is measured yet: take one, or set the lines in numbers.
        </p>
      )}
      {picture.kind === "loading" && (
        <p class="quiet" aria-busy="true">
          Cutting the face from its photo …
        </p>
      )}
      {picture.kind === "failed" && (
        <p class="plate warn">
          <Icon name="warning" /> {picture.says}
        </p>
      )}
      <Only may="setJoints" otherwise="Only the foreman sets them.">
        <JointEditor
          key={pattern.id}
          delivery={delivery}
          pattern={pattern}
          leaves={leaves.length}
          seq={view.seq}
          picture={picture.kind === "ready" ? picture.url : null}
        />
      </Only>
    </>
  );
};

/** Where the joints of a pattern lie: its lines over a photo of one of its leaves. */
export const JointsScreen = (props: { delivery: string; pattern: string }) => {
  const { delivery } = props;
  const { query } = useLocation();
  const view = useView("pattern", { delivery, pattern: props.pattern });
  const { leaf, face } = query;
  return (
    <>
      <p>
        <a class="button" href={leaf ? `/d/${delivery}/unwrap/${leaf}?face=${face || "A"}` : `/d/${delivery}/unwrap`}>
          <Icon name="back" /> {leaf ? `Leaf ${leaf}` : "All leaves"}
        </a>
      </p>
      <Shown view={view}>{(pattern) => <Laying delivery={delivery} view={pattern} leaf={leaf} face={face} />}</Shown>
    </>
  );
};
