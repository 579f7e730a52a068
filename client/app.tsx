import { LocationProvider, Route, Router } from "preact-iso";
import { type Desk, DeskContext } from "./desk.ts";
import { Frame } from "./frame.tsx";
import { ChartScreen } from "./screens/chart.tsx";
import { Deliveries } from "./screens/deliveries.tsx";
import { DeliveryScreen } from "./screens/delivery.tsx";
import { Guide } from "./screens/guide.tsx";
import { History } from "./screens/history.tsx";
import { JointsScreen } from "./screens/joints.tsx";
import { Label } from "./screens/label.tsx";
import { LeafScreen } from "./screens/leaf.tsx";
import { Match } from "./screens/match.tsx";
import { NewDelivery } from "./screens/new-delivery.tsx";
import { Repeat } from "./screens/repeat.tsx";
import { Returns } from "./screens/returns.tsx";
import { TermsScreen } from "./screens/terms.tsx";
import { Unwrap } from "./screens/unwrap.tsx";

const Missing = () => (
  <>
    <h1>No such page</h1>
    <p>
      <a href="/">All deliveries</a>
    </p>
  </>
);

/** Address to screen. Which leaf, face, space or list is open stands in the address. */
export const App = (props: { desk: Desk }) => (
  <DeskContext.Provider value={props.desk}>
    <LocationProvider>
      <Frame>
        <Router>
          <Route path="/" component={Deliveries} />
          <Route path="/new" component={NewDelivery} />
          <Route path="/guide" component={Guide} />
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
      </Frame>
    </LocationProvider>
  </DeskContext.Provider>
);
