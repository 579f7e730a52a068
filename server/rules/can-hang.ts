import type { Leaf } from "../contract/leaf.ts";

/** A leaf to plan with: as ordered, neither held nor going back; one not yet decided is planned with too. */
export const canHang = ({ line, identity, decision }: Leaf): boolean =>
  line !== null && identity === "as-ordered" && decision?.outcome !== "hold" && decision?.outcome !== "return";
