import type { ComponentChildren } from "preact";
import { LocationProvider, Route, Router, useLocation } from "preact-iso";
import { type Desk, DeskContext, useDesk } from "./desk.ts";
import { Frame } from "./frame.tsx";
import { later } from "./later.tsx";
import { Deliveries } from "./screens/deliveries.tsx";
import { DeliveryScreen } from "./screens/delivery.tsx";
import { Unwrap } from "./screens/unwrap.tsx";

const ChartScreen = later(() => import("./screens/chart.tsx").then((file) => file.ChartScreen));
const Guide = later(() => import("./screens/guide.tsx").then((file) => file.Guide));
const History = later(() => import("./screens/history.tsx").then((file) => file.History));
const JointsScreen = later(() => import("./screens/joints.tsx").then((file) => file.JointsScreen));
const Label = later(() => import("./screens/label.tsx").then((file) => file.Label));
const LeafScreen = later(() => import("./screens/leaf.tsx").then((file) => file.LeafScreen));
const Match = later(() => import("./screens/match.tsx").then((file) => file.Match));
const NewDelivery = later(() => import("./screens/new-delivery.tsx").then((file) => file.NewDelivery));
const Pair = later(() => import("./screens/pair.tsx").then((file) => file.Pair));
const People = later(() => import("./screens/people.tsx").then((file) => file.People));
const Repeat = later(() => import("./screens/repeat.tsx").then((file) => file.Repeat));
const Returns = later(() => import("./screens/returns.tsx").then((file) => file.Returns));
const TermsScreen = later(() => import("./screens/terms.tsx").then((file) => file.TermsScreen));

const Missing = () => (
  <>
    <h1>No such page</h1>
    <p>
      <a href="/">All deliveries</a>
    </p>
  </>
);

/** The screens for who is let in; any other device is asked for its code first. */
const LetIn = (props: { children: ComponentChildren }) => {
  const { standing } = useDesk();
  const { path } = useLocation();
  if (standing.value === "out" || path === "/pair") return <Pair />;
  if (standing.value === "in") return <>{props.children}</>;
  return (
    <p class="quiet" aria-busy="true">
      Asking the laptop …
    </p>
  );
};

/** Address to screen. Which leaf, face, space or list is open stands in the address. */
export const App = (props: { desk: Desk }) => (
  <DeskContext.Provider value={props.desk}>
    <LocationProvider>
      <Frame>
        <LetIn>
          <Router>
            <Route path="/" component={Deliveries} />
            <Route path="/new" component={NewDelivery} />
            <Route path="/guide" component={Guide} />
            <Route path="/people" component={People} />
            <Route path="/d/:delivery" component={DeliveryScreen} />
            <Route path="/d/:delivery/unwrap" component={Unwrap} />
            <Route path="/d/:delivery/unwrap/:leaf" component={LeafScreen} />
            <Route path="/d/:delivery/joints/:pattern" component={JointsScreen} />
            <Route path="/d/:delivery/match" component={Match} />
            <Route path="/d/:delivery/repeat" component={Repeat} />
            <Route path="/d/:delivery/returns" component={Returns} />
            <Route path="/d/:delivery/history" component={History} />
            <Route path="/d/:delivery/chart" component={ChartScreen} />
            <Route path="/d/:delivery/terms" component={TermsScreen} />
            <Route path="/L/:leaf" component={Label} />
            <Route path="/l/:leaf" component={Label} />
            <Route default component={Missing} />
          </Router>
        </LetIn>
      </Frame>
    </LocationProvider>
  </DeskContext.Provider>
);
