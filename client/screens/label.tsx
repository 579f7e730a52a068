import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { call } from "../api.ts";

interface Found {
  readonly delivery: string;
  readonly name: string;
}

const holdersOf = async (leaf: string): Promise<readonly Found[]> => {
  const deliveries = await call("listDeliveries", {});
  if (deliveries.kind !== "ok") return [];
  const views = await Promise.all(deliveries.value.map(({ id }) => call("overview", { delivery: id })));
  return views.flatMap((view) =>
    view.kind === "ok" && view.value.leaves.some(({ code }) => code === leaf)
      ? [{ delivery: view.value.id, name: view.value.job.name }]
      : [],
  );
};

/** Where the code on a leaf's label leads: to that leaf, or to a choice when several deliveries hold its code. */
export const Label = (props: { leaf: string }) => {
  const leaf = props.leaf.toUpperCase();
  const { route } = useLocation();
  const [found, find] = useState<readonly Found[] | null>(null);
  useEffect(() => {
    void holdersOf(leaf).then((holders) => {
      const [only, second] = holders;
      if (only && !second) route(`/d/${only.delivery}/unwrap/${leaf}`, true);
      else find(holders);
    });
  }, [leaf, route]);
  return (
    <>
      <h1>Leaf {leaf}</h1>
      {found === null && <p aria-busy="true">Looking for it …</p>}
      {found?.length === 0 && (
        <p>
          No delivery holds a leaf {leaf}. <a href="/">All deliveries</a>
        </p>
      )}
      <ul class="rows">
        {found?.map(({ delivery, name }) => (
          <li key={delivery}>
            <a class="row" href={`/d/${delivery}/unwrap/${leaf}`}>
              {leaf} of {name}
            </a>
          </li>
        ))}
      </ul>
    </>
  );
};
