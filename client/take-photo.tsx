import { useId, useState } from "preact/hooks";
import type { Body } from "../server/contract/calls.ts";
import { askWho, useDesk } from "./desk.ts";
import { Icon } from "./icon.tsx";
import { checkPhoto, hashPhoto } from "./photo-check.ts";

type Said =
  | { readonly kind: "nothing" }
  | { readonly kind: "looking" }
  | { readonly kind: "kept" }
  | { readonly kind: "retake"; readonly advice: readonly string[] };

/** Takes a photo, keeps it on this phone, says at once whether to take it again, and sends it when it can. */
export const TakePhoto = (props: {
  delivery: string;
  label: string;
  about: Pick<Body<"uploadPhoto">, "kind" | "shows" | "note">;
  quiet?: boolean;
}) => {
  const desk = useDesk();
  const id = useId();
  const [said, say] = useState<Said>({ kind: "nothing" });

  const keep = async (file: File) => {
    if (!(await askWho(desk))) return;
    say({ kind: "looking" });
    const sha256 = await hashPhoto(file);
    const about = { sha256, name: file.name.slice(0, 200) || "photo.jpg", ...props.about };
    await desk.queue.keep({
      id: `${props.delivery} ${sha256}`,
      delivery: props.delivery,
      about,
      file,
      keptAt: new Date().toISOString(),
      state: { kind: "kept" },
    });
    const advice = await checkPhoto(file);
    say(advice.length > 0 ? { kind: "retake", advice } : { kind: "kept" });
  };

  return (
    <div class="take-photo">
      <input
        id={id}
        class="file"
        type="file"
        accept="image/*"
        capture="environment"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          event.currentTarget.value = "";
          if (file) void keep(file);
        }}
      />
      <label for={id} class={props.quiet ? "button" : "button main"}>
        <Icon name="camera" /> {props.label}
      </label>
      <p role="status" class={said.kind === "retake" ? "warn" : "quiet"}>
        {said.kind === "looking" && "Looking at the photo …"}
        {said.kind === "kept" && "Kept on this device. It looks fine so far."}
        {said.kind === "retake" && `Kept, but take it again: ${said.advice[0]}`}
      </p>
    </div>
  );
};
