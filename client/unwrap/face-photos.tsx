import { useState } from "preact/hooks";
import type { LeafView } from "../../server/contract/views.ts";
import { address } from "../api.ts";
import { useChange } from "../change.ts";
import { useDesk } from "../desk.ts";
import { CornerEditor } from "../drawing/corner-editor.tsx";
import { middleQuad, type Quad } from "../drawing/corner-quad.ts";
import { Icon } from "../icon.tsx";
import { TakePhoto } from "../take-photo.tsx";
import { facesNotFound, failsItsChart, photoSays, photosOfFace } from "./photos-of-face.ts";

type LeafPhoto = LeafView["photos"][number];

const cornersOf = ({ photo, state }: LeafPhoto, leaf: string, face: "A" | "B"): Quad | null => {
  const here = (shown: { leaf: string; face: string }) => shown.leaf === leaf && shown.face === face;
  const byHand = photo.shows.find(here)?.corners;
  if (byHand) return byHand;
  return state.kind === "measured" ? (state.faces.find(here)?.corners ?? null) : null;
};

const FacePhoto = (props: { delivery: string; view: LeafView; face: "A" | "B"; photo: LeafPhoto }) => {
  const { delivery, view, face, photo } = props;
  const { undoable } = useChange();
  const [editing, edit] = useState(false);
  const { id, width, height, kind, shows, note } = photo.photo;
  const corners = cornersOf(photo, view.leaf.code, face);
  const picture = address("photoPreview", { delivery, photo: id });
  const { well, says } = photoSays(photo);
  const lost = facesNotFound(photo);
  const isHere = (shown: { leaf: string; face: string }) => shown.leaf === view.leaf.code && shown.face === face;
  const keep = async (quad: Quad) => {
    const changed = shows.map((shown) => (isHere(shown) ? { ...shown, corners: quad } : shown));
    await undoable(
      delivery,
      "filePhoto",
      { delivery, photo: id },
      { seen: view.seq, kind, shows: changed, note },
      "Corners set. The photo is measured again with them.",
    );
    edit(false);
  };
  if (editing)
    return (
      <CornerEditor
        picture={picture}
        photo={{ width, height }}
        start={corners ?? middleQuad({ width, height }, view.pattern)}
        onKeep={(quad) => void keep(quad)}
        onLeave={() => edit(false)}
      />
    );
  return (
    <figure class="face-photo">
      <svg
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`Photo of face ${face} of ${view.leaf.code}${corners ? " with its outline" : ""}`}
      >
        <image href={picture} width={width} height={height} />
        {corners && (
          <>
            <polygon class="outline halo" points={corners.join(" ")} />
            <polygon class="outline" points={corners.join(" ")} />
          </>
        )}
      </svg>
      <figcaption>
        <p class={well ? undefined : "plate warn"}>
          <Icon name={well ? "good" : "warning"} /> {says}
        </p>
        {photo.photo.flags.map((flag) => (
          <p key={flag} class="quiet">
            {flag}
          </p>
        ))}
        <div class="buttons">
          {failsItsChart(photo) && (
            <a class="button" href={`/d/${delivery}/chart`}>
              <Icon name="chart" /> Choose the chart
            </a>
          )}
          <button type="button" class={lost.some(isHere) ? "main" : undefined} onClick={() => edit(true)}>
            {corners ? "Correct the corners" : "Set the four corners"}
          </button>
          {lost
            .filter((shown) => !isHere(shown))
            .map((shown) => (
              <a
                class="button"
                key={`${shown.leaf} ${shown.face}`}
                href={`/d/${delivery}/unwrap/${shown.leaf}?face=${shown.face}`}
              >
                Set the corners of {shown.leaf} {shown.face}
              </a>
            ))}
        </div>
      </figcaption>
    </figure>
  );
};

/** Photos before the newest; those in which this face was not found are open from the start. */
const EarlierPhotos = (props: { delivery: string; view: LeafView; face: "A" | "B"; photos: readonly LeafPhoto[] }) => {
  const { photos, view, face } = props;
  const lost = photos.some((photo) =>
    facesNotFound(photo).some((shown) => shown.leaf === view.leaf.code && shown.face === face),
  );
  const [open, unfold] = useState(lost);
  return (
    <details open={open} onToggle={(event) => unfold(event.currentTarget.open)}>
      <summary>
        {photos.length} earlier {photos.length === 1 ? "photo" : "photos"} of this face
      </summary>
      {open && photos.map((photo) => <FacePhoto key={photo.photo.id} {...props} photo={photo} />)}
    </details>
  );
};

/** The newest photo of a face with what became of it, and the camera; earlier ones fold away. */
export const FacePhotos = (props: { delivery: string; view: LeafView; face: "A" | "B" }) => {
  const { delivery, view, face } = props;
  const { queue } = useDesk();
  const photos = photosOfFace(view, face);
  const [newest, ...earlier] = photos;
  const here = queue.photos.value.filter(
    (kept) =>
      kept.delivery === delivery &&
      kept.about.shows.some((shown) => shown.leaf === view.leaf.code && shown.face === face),
  );
  return (
    <section aria-labelledby="face-photo">
      <h2 id="face-photo">Photo of face {face}</h2>
      {newest ? (
        <FacePhoto key={newest.photo.id} delivery={delivery} view={view} face={face} photo={newest} />
      ) : (
        <p>No photo of this face yet. Card or chart on the face, leaf upright, all four corners in the picture.</p>
      )}
      {here.length > 0 && (
        <p>
          <Icon name="waiting" /> {here.length} of this face on this device, not sent yet.
        </p>
      )}
      <TakePhoto
        key={face}
        delivery={delivery}
        label={newest ? `Take face ${face} again` : `Photograph face ${face}`}
        about={{ kind: "single", shows: [{ leaf: view.leaf.code, face, corners: null }], note: "" }}
        quiet={newest !== undefined}
      />
      {earlier.length > 0 && <EarlierPhotos key={face} delivery={delivery} view={view} face={face} photos={earlier} />}
    </section>
  );
};
