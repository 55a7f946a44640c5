export const proofWords = {
  heading: "What stands beside it",
  everyLook: "Looked at every week",
  verdict: {
    changed: () => "A change, and not by looking often: it holds however many times one looks.",
    "no-change": (wanted: string) => `A change of ${wanted} is not there, however many times one looks.`,
    "go-on": () => "May still be chance when one looks after every run. Go on measuring.",
  },
  dayToDay: "From day to day",
  dayToDayIs: (percent: string, rate: string, low: string, high: string) =>
    `The same runner at the same speed differs by about ${percent} (${rate}) from one day to the next; likely ${low} to ${high}.`,
  repeats: (runs: number, error: string, detectable: string) =>
    `The ${runs} runs before differ by ${error}; as many on each side can tell ${detectable} or more from nothing.`,
  heartRate: "Heart rate",
  effort: "Effort, 0–10",
  costNone: {
    heartRate: "Not known: needs two runs with heart rate before and two after.",
    effort: "Not known: needs the effort rating of two runs before and of two after.",
  },
  cost: (change: string, low: string, high: string) => `${change} at the same speed (${low} to ${high})`,
  effortChange: (change: string, low: string, high: string) => `${change} points (${low} to ${high})`,
  beats: (value: string) => `${value} beats a minute`,
  early: (text: string) => `First two weeks: ${text}.`,
  later: (text: string) => `Later: ${text}.`,
  overall: (text: string) => `${text}.`,
  fades: "It has become easier again.",
  trend: "Over the weeks",
  trendIs: (change: string, low: string, high: string) => `${change} a week at the same speed (${low} to ${high}).`,
} as const;
