import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";
import { type AllotmentQuestion, answerQuestion } from "../../analysis/allot/allotment-questions.ts";
import { crop } from "../images/crop.ts";
import { preview } from "../images/decode.ts";
import { examine } from "../images/examine.ts";
import { supplierCopy } from "../images/supplier-copy.ts";
import { type Printing, printed } from "../records/printing.ts";
import type { CropRequest } from "../site.ts";
import { type FileToRead, readFileText } from "../use-cases/read-files.ts";
import { dealByHand } from "./deal-by-hand.ts";
import { lookClosely } from "./look-closely.ts";
import { type ContrastRequest, measureContrast } from "./measure-contrast.ts";
import { measurePhoto } from "./measure-photo.ts";
import type { LookRequest, MeasureRequest } from "./measurement.ts";
import { readRepeatPhotos } from "./read-repeat-photos.ts";
import { solveDelivery } from "./solve-delivery.ts";
import type { SolveRequest } from "./solved.ts";

/** Work that is done in the child process: everything that decodes a photo, and the arithmetic over all of them. */
export type Job =
  | { readonly kind: "examine"; readonly path: string }
  | { readonly kind: "preview"; readonly path: string; readonly longestPx: number }
  | { readonly kind: "crop"; readonly path: string; readonly request: CropRequest }
  | { readonly kind: "supplier-copy"; readonly path: string; readonly to: string }
  | { readonly kind: "read-file"; readonly reading: FileToRead }
  | { readonly kind: "print"; readonly printing: Printing }
  | ({ readonly kind: "contrast" } & ContrastRequest)
  | ({ readonly kind: "look" } & LookRequest)
  | { readonly kind: "measure"; readonly request: MeasureRequest }
  | { readonly kind: "solve"; readonly request: SolveRequest }
  | { readonly kind: "repeats"; readonly request: SolveRequest }
  | { readonly kind: "by-hand"; readonly problem: AllotmentProblem }
  | { readonly kind: "question"; readonly question: AllotmentQuestion };

/** Does one job. Throws when it cannot be done; the message is one plain sentence. */
export const runJob = (job: Job): unknown => {
  switch (job.kind) {
    case "examine":
      return examine(job.path);
    case "preview":
      return preview(job.path, job.longestPx);
    case "crop":
      return crop(job.path, job.request);
    case "supplier-copy":
      return supplierCopy(job.path, job.to);
    case "read-file":
      return readFileText(job.reading);
    case "print":
      return printed(job.printing);
    case "contrast":
      return measureContrast(job);
    case "look":
      return lookClosely(job);
    case "measure":
      return measurePhoto(job.request);
    case "solve":
      return solveDelivery(job.request);
    case "repeats":
      return readRepeatPhotos(job.request);
    case "by-hand":
      return dealByHand(job.problem);
    case "question":
      return answerQuestion(job.question);
  }
};
