import back from "lucide-static/icons/arrow-left.svg?raw";
import turn from "lucide-static/icons/arrow-left-right.svg?raw";
import banned from "lucide-static/icons/ban.svg?raw";
import camera from "lucide-static/icons/camera.svg?raw";
import good from "lucide-static/icons/circle-check.svg?raw";
import unknown from "lucide-static/icons/circle-question-mark.svg?raw";
import shut from "lucide-static/icons/circle-x.svg?raw";
import clock from "lucide-static/icons/clock.svg?raw";
import matching from "lucide-static/icons/columns-3.svg?raw";
import record from "lucide-static/icons/file-text.svg?raw";
import chart from "lucide-static/icons/grid-3x3.svg?raw";
import history from "lucide-static/icons/history.svg?raw";
import home from "lucide-static/icons/house.svg?raw";
import count from "lucide-static/icons/list-checks.svg?raw";
import held from "lucide-static/icons/lock.svg?raw";
import unwrap from "lucide-static/icons/package-open.svg?raw";
import again from "lucide-static/icons/refresh-cw.svg?raw";
import warning from "lucide-static/icons/triangle-alert.svg?raw";
import undo from "lucide-static/icons/undo-2.svg?raw";
import waiting from "lucide-static/icons/upload.svg?raw";
import person from "lucide-static/icons/user.svg?raw";

const icons = {
  back,
  banned,
  camera,
  chart,
  matching,
  good,
  unknown,
  shut,
  clock,
  record,
  turn,
  history,
  home,
  count,
  held,
  unwrap,
  again,
  warning,
  undo,
  person,
  waiting,
};

export type IconName = keyof typeof icons;

const inside = (svg: string) => svg.slice(svg.indexOf(">", svg.indexOf("<svg")) + 1, svg.lastIndexOf("</svg>"));

/** A small drawing that always stands beside its word, so it is hidden from those who listen. */
export const Icon = (props: { name: IconName }) => (
  <svg
    class="icon"
    viewBox="0 0 24 24"
    aria-hidden="true"
    focusable="false"
    dangerouslySetInnerHTML={{ __html: inside(icons[props.name]) }}
  />
);
