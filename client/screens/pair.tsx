import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { call } from "../api.ts";
import { useDesk } from "../desk.ts";
import { TextField } from "../fields.tsx";
import { codeLength, inGroups, readCode } from "../people/pairing-code.ts";
import { learnState } from "../standing.ts";
import { rememberedName, rememberName } from "../who.ts";

/** Lets this device in: by the code that the foreman's laptop shows, or by the address behind its picture (`/pair#…`). */
export const Pair = () => {
  const desk = useDesk();
  const { route } = useLocation();
  const token = location.hash.slice(1);
  const [name, setName] = useState(rememberedName(localStorage) ?? "");
  const [code, setCode] = useState("");
  const [says, setSays] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const secret = token || code;
  const ready = name.trim() !== "" && (token !== "" || code.length === codeLength);

  const letIn = async () => {
    setBusy(true);
    const outcome = await call("pair", {}, { secret, name: name.trim() });
    setBusy(false);
    if (outcome.kind === "ok") {
      rememberName(localStorage, name.trim());
      await learnState(desk);
      route("/", true);
    } else setSays(outcome.kind === "refused" ? outcome.problem.detail : "The laptop cannot be reached. Try again.");
  };

  return (
    <>
      <h1>Let this device in</h1>
      <p>
        {token
          ? "Say who you are: your name stands beside everything you enter."
          : "Ask the foreman for a code: the laptop shows it under People and devices. It works once, for ten minutes."}
      </p>
      <form
        class="pair"
        onSubmit={(event) => {
          event.preventDefault();
          if (ready && !busy) void letIn();
        }}
      >
        <TextField label="Your name" value={name} onInput={setName} required />
        {!token && (
          <div class="field">
            <label for="code">Code, 8 letters and digits</label>
            <input
              id="code"
              class="pairing-code"
              type="text"
              autocomplete="off"
              autocapitalize="characters"
              spellcheck={false}
              value={inGroups(code)}
              onInput={(event) => {
                const typed = readCode(event.currentTarget.value);
                setCode(typed);
                event.currentTarget.value = inGroups(typed);
              }}
            />
          </div>
        )}
        {says !== null && (
          <p class="plate warn" role="alert">
            {says}
          </p>
        )}
        <div class="buttons">
          <button type="submit" class="main" disabled={!ready || busy}>
            Let me in
          </button>
        </div>
      </form>
    </>
  );
};
