// What bench/steps.ts measures, gathered so that it can be bundled.
export { designButterworth } from "../src/engine/signal/butterworth.ts";
export { findPeaks } from "../src/engine/signal/find-peaks.ts";
export { sosFiltFilt } from "../src/engine/signal/sos-filter.ts";
export { analyseMotion } from "../src/engine/steps/analyse-motion.ts";
export { createLiveSteps } from "../src/engine/steps/live-steps.ts";
export { makeSyntheticMotion } from "../src/engine/synthetic/synthetic-motion.ts";
