// The architecture, as data. Change it here and nowhere else.
const parts = {
  engine: [],
  api: ["engine"],
  store: ["engine"],
  server: ["engine", "api", "store"],
  ui: ["engine"],
  desk: ["engine", "api", "ui"],
  pocket: ["engine", "api", "ui"],
  cli: ["engine", "store", "server"],
};

// Inside the engine a folder may use folders of earlier rows only (or itself).
const engineTiers = [
  ["quantities"],
  ["evidence"],
  ["signal"],
  ["recordings"],
  ["steps", "speed"],
  ["analysis"],
  ["baseline", "load"],
  ["change"],
  ["target"],
  ["session"],
  ["plan"],
  ["beat"],
  ["group"],
  ["synthetic"],
];

// Small, pure, well-kept numeric packages that the engine may use. Anything else is an error.
const enginePackages = [
  "fft.js",
  "ml-matrix",
  "@stdlib/stats-base-dists-t-quantile",
  "saxes",
  "papaparse",
  "temporal-polyfill",
  "wavefile",
  "@audio/decode-wav",
];

const src = (names) => `^src/(${names.join("|")})/`;
const tests = "\\.test\\.tsx?$";

const partRules = Object.entries(parts).map(([part, uses]) => ({
  name: `${part}-uses-only-${uses.join("-") || "itself"}`,
  comment: `src/${part} may import from: ${uses.join(", ") || "nothing outside itself"}. Move the shared piece down, or pass it in.`,
  severity: "error",
  from: { path: src([part]), pathNot: tests },
  to: { path: "^src/", pathNot: src([part, ...uses]) },
}));

const tierRules = engineTiers.flatMap((row, index) =>
  row.map((folder) => ({
    name: `engine-${folder}-looks-down`,
    comment: `engine/${folder} may import only from earlier rows of engineTiers.`,
    severity: "error",
    from: { path: `^src/engine/${folder}/`, pathNot: tests },
    to: {
      path: "^src/engine/",
      pathNot: `^src/engine/(${[folder, ...engineTiers.slice(0, index).flat()].join("|")})/`,
    },
  })),
);

module.exports = {
  forbidden: [
    ...partRules,
    ...tierRules,
    {
      name: "engine-is-pure",
      comment:
        "The engine imports itself and the numeric packages named above; files, network and clocks are handed in.",
      severity: "error",
      from: { path: "^src/engine/", pathNot: tests },
      to: { pathNot: `^src/engine/|node_modules/(${enginePackages.join("|")})/|node_modules/@types/` },
    },
    {
      name: "no-cycle",
      comment: "Split out what both sides need.",
      severity: "error",
      from: { path: "^src/" },
      to: { circular: true },
    },
    {
      name: "no-import-of-tests",
      comment: "Test helpers live in tests/.",
      severity: "error",
      from: { path: "^src/", pathNot: tests },
      to: { path: `${tests}|^tests/|^e2e/|^oracles/|^bench/` },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    tsConfig: { fileName: "tsconfig.base.json" },
  },
};
