import type { AllotmentProblem, LeafFace } from "./allotment.ts";

/** The same with faces in place of these that differ from none: those of leaves nobody has seen yet, without marks. */
export const goesWithAll = (problem: AllotmentProblem, faces: readonly string[]): AllotmentProblem => {
  const own = new Set(faces);
  const { differences } = problem;
  const isOwn = differences.faces.map((face) => own.has(face));
  const cleared = <Cell>(table: readonly (readonly Cell[])[]) =>
    table.map((row, i) => row.map((value, j) => (isOwn[i] || isOwn[j] ? 0 : value)));
  const unseen = (face: LeafFace): LeafFace => (own.has(face.id) ? { id: face.id, lightness: null } : face);
  return {
    ...problem,
    leaves: problem.leaves.map((leaf) => ({ ...leaf, faces: { A: unseen(leaf.faces.A), B: unseen(leaf.faces.B) } })),
    existing: problem.existing.map((face) => (own.has(face.id) ? { ...face, lightness: null } : face)),
    differences: {
      faces: differences.faces,
      deltaE: cleared(differences.deltaE),
      ...(differences.u95 ? { u95: cleared(differences.u95) } : {}),
    },
  };
};
