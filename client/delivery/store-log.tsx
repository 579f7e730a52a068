import { useState } from "preact/hooks";
import type { Overview } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { HumidityDrawing } from "../drawing/humidity-drawing.tsx";
import { NumberField, TextField } from "../fields.tsx";
import { Icon } from "../icon.tsx";
import { Scroll } from "../scroll.tsx";
import { nowWithOffset, shortTime } from "../times.ts";
import { typedNumber } from "../words.ts";

const LogReading = (props: { delivery: string }) => {
  const { undoable } = useChange();
  const [temperature, setTemperature] = useState("");
  const [humidity, setHumidity] = useState("");
  const [place, setPlace] = useState("in the stack");
  const [instrument, setInstrument] = useState("");
  const [event, setEvent] = useState("");
  const values = [typedNumber(temperature), typedNumber(humidity)];
  const log = async () => {
    const [temperatureC, humidityPercent] = values;
    if (temperatureC == null || humidityPercent == null || values.some(Number.isNaN)) return;
    const reading = { at: nowWithOffset(new Date()), temperatureC, humidityPercent, place, instrument, event };
    const done = await undoable(
      props.delivery,
      "logReading",
      { delivery: props.delivery },
      { reading },
      "Reading logged.",
    );
    if (done) {
      setTemperature("");
      setHumidity("");
      setEvent("");
    }
  };
  return (
    <details>
      <summary>Log a reading</summary>
      <form
        onSubmit={(submit) => {
          submit.preventDefault();
          void log();
        }}
      >
        <div class="fields">
          <NumberField label="Temperature" unit="°C" text={temperature} onInput={setTemperature} required />
          <NumberField label="Relative humidity" unit="%" text={humidity} onInput={setHumidity} required />
          <TextField label="Place" value={place} onInput={setPlace} />
          <TextField
            label="Instrument"
            value={instrument}
            onInput={setInstrument}
            hint="and when it was last checked"
          />
          <TextField
            label="What happened"
            value={event}
            onInput={setEvent}
            hint="screed, plaster, paint, heater, window"
          />
        </div>
        <button type="submit" class="main">
          Log this reading
        </button>
      </form>
    </details>
  );
};

/** How the leaves were stored: humidity over time, the moisture that wood would come to, hours outside the band. */
export const StoreLog = (props: {
  delivery: string;
  store: Overview["store"];
  limits: Overview["terms"]["store"];
  timeZone: string;
}) => {
  const { store, limits, timeZone } = props;
  const last = store.readings.at(-1);
  return (
    <>
      {last && (
        <p>
          Last reading: <strong>{last.humidityPercent} %</strong> humidity, {last.temperatureC} °C; wood left in it
          comes to <strong>{last.moisturePercent.toFixed(1)} %</strong> moisture. Agreed: {limits.humidityMinPercent} to{" "}
          {limits.humidityMaxPercent} %.
        </p>
      )}
      <p>
        <Icon name={store.hoursOutside > 0 ? "warning" : "good"} /> {Math.round(store.hoursOutside)} hours outside the
        band.
      </p>
      {store.warnings.length > 0 && (
        <ul class="warnings">
          {store.warnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
      <HumidityDrawing
        readings={store.readings}
        band={[limits.humidityMinPercent, limits.humidityMaxPercent]}
        timeZone={timeZone}
      />
      <details>
        <summary>Readings as a table</summary>
        <Scroll label="Readings of the store">
          <table class="plain">
            <thead>
              <tr>
                <th scope="col">When</th>
                <th scope="col">Humidity</th>
                <th scope="col">Temperature</th>
                <th scope="col">Wood moisture</th>
                <th scope="col">What happened</th>
              </tr>
            </thead>
            <tbody>
              {store.readings.map((reading) => (
                <tr key={reading.id}>
                  <th scope="row">{shortTime(reading.at, timeZone)}</th>
                  <td>
                    {reading.humidityPercent} %{reading.outside && " (outside)"}
                  </td>
                  <td>{reading.temperatureC} °C</td>
                  <td>{reading.moisturePercent.toFixed(1)} %</td>
                  <td>{reading.event}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      </details>
      <LogReading delivery={props.delivery} />
    </>
  );
};
