import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { inventedFiles } from "../../../tests/invented-runs.ts";
import { runCli } from "../../../tests/run-cli.ts";

interface Summary {
  mean: number;
  standardError: number;
  p05: number;
  p95: number;
}
interface FileJson {
  file: string;
  kind: string;
  startedAt: string | null;
  durationS: number;
  movingS: number;
  distanceM: number | null;
  stepRateSpm: Summary | null;
  speedMps: Summary | null;
  stepLengthM: Summary | null;
  feetCounted: string;
  windows: {
    startS: number;
    endS: number;
    stepRateSpm: number | null;
    speedMps: number | null;
    slope: number | null;
    quality: number;
    state: string;
  }[];
  warnings: { code: string; message: string }[];
}

const files = inventedFiles("run", 1, { speedMps: 3, stepRateSpm: 164, minutes: 12, daySdPercent: 0 }, 7);

describe("spondee read", () => {
  test("simulation: an invented GPX run gives back its step rate, speed and length, per-leg cadence doubled and said", async () => {
    const run = await runCli(["read", "run-1.gpx", "--json"], files);
    const [file] = run.json<{ files: FileJson[] }>().files;
    expect(file).toMatchObject({ file: "run-1.gpx", kind: "gpx", feetCounted: "one", durationS: 720 });
    expectClose(file!.stepRateSpm!.mean, 164, {
      atol: 1,
      because: "whole per-leg numbers and 1.5 spm of sensor noise",
    });
    expectClose(file!.speedMps!.mean, 3, { rtol: 0.03, because: "receiver noise" });
    expectClose(file!.distanceM!, 3 * 720, { rtol: 0.03, because: "receiver noise" });
    expectClose(file!.stepLengthM!.mean, (60 * 3) / 164, { rtol: 0.03, because: "follows from both" });
    expect(file!.windows.length).toBeGreaterThan(60);
    expect(file!.windows.every(({ state }) => state === "running")).toBe(true);
    expect(file!.stepRateSpm!.p05).toBeLessThan(file!.stepRateSpm!.p95);
  });

  test("an unreadable file beside a good one: the good one is told, the other named, exit 3", async () => {
    const run = await runCli(["read", "run-1.gpx", "empty.gpx", "--json"], { ...files, "empty.gpx": "" });
    expect(run.exitCode).toBe(3);
    expect(run.json<{ files: FileJson[] }>().files).toHaveLength(1);
    expect(run.stderr).toMatch(/empty\.gpx.*empty/);
  });

  test.each<[string, string | Uint8Array]>([
    ["an empty file", ""],
    ["truncated XML", '<?xml version="1.0"?><gpx version="1.1"><trk><trkseg><trkpt lat="1" lon="2">'],
    ["an entity bomb", '<?xml version="1.0"?><!DOCTYPE g [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]><gpx>&b;</gpx>'],
    [
      "an external entity",
      '<?xml version="1.0"?><!DOCTYPE g [<!ENTITY x SYSTEM "file:///etc/hostname">]><gpx>&x;</gpx>',
    ],
    ["binary junk", Uint8Array.from({ length: 300 }, (_, i) => (i * 37) % 256)],
    [
      "a latitude of 200",
      gpx(
        '<trkpt lat="200" lon="2"><time>2026-03-01T08:00:00Z</time></trkpt><trkpt lat="1" lon="2"><time>2026-03-01T08:00:01Z</time></trkpt>',
      ),
    ],
    [
      "a wrong encoding",
      new Uint8Array([
        ...Buffer.from('<?xml version="1.0" encoding="UTF-8"?><gpx><name>'),
        0xff,
        0xfe,
        0xc3,
        ...Buffer.from("</name></gpx>"),
      ]),
    ],
    ["a WAV that claims 500 MB", wavClaiming(500_000_000)],
    ["a CSV with a text cell", "time_s,lat,lon\n0,1,2\n1,north,2\n2,1,2\n"],
    ["a CSV without time", "lat,lon\n1,2\n1,2.1\n"],
  ])("%s ends with 3, one line that names the file, and no output", async (_, content) => {
    const run = await runCli(["read", "bad.gpx", "--json"], { "bad.gpx": content });
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
    expect(run.stderr).toContain("bad.gpx");
  });

  test("a file that is not there ends with 3", async () => {
    const run = await runCli(["read", "no-such-file.gpx"]);
    expect(run.exitCode).toBe(3);
    expect(run.stderr).toContain("no-such-file.gpx");
  });

  test("no file is wrong usage", async () => {
    expect((await runCli(["read"])).exitCode).toBe(2);
  });
});

function gpx(points: string): string {
  return `<?xml version="1.0"?><gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>${points}</trkseg></trk></gpx>`;
}

function wavClaiming(bytes: number): Uint8Array {
  const wav = Buffer.alloc(60);
  wav.write("RIFF", 0, "latin1");
  wav.writeUInt32LE(bytes + 36, 4);
  wav.write("WAVEfmt ", 8, "latin1");
  wav.writeUInt32LE(16, 16);
  wav.writeUInt16LE(1, 20);
  wav.writeUInt16LE(1, 22);
  wav.writeUInt32LE(44_100, 24);
  wav.writeUInt32LE(88_200, 28);
  wav.writeUInt16LE(2, 32);
  wav.writeUInt16LE(16, 34);
  wav.write("data", 36, "latin1");
  wav.writeUInt32LE(bytes, 40);
  return wav;
}
