#!/usr/bin/env python3
"""The outside peer of bench/steps.ts. Reads n×3 float64 samples at 100 Hz from a file, prints the best times as JSON.

"kernels": band-pass of three axes forward and backward, norm, peak picking: what a simple step counter does.
"same work": what the step analysis does before it decides: 50 Hz features, 5 s spectra of four channels every second,
comb scores of 181 rates with and without stride lines, demodulation at the step rate. No path over time, no asymmetry.
"""
import json
import sys
import time

import numpy as np
import scipy
from scipy import signal

samples = np.fromfile(sys.argv[1]).reshape(-1, 3)
FS = 100.0
sos = signal.butter(2, [0.5, 10], "bandpass", fs=FS, output="sos")


def kernels():
    filtered = [signal.sosfiltfilt(sos, samples[:, axis]) for axis in range(3)]
    norm = np.sqrt(filtered[0] ** 2 + filtered[1] ** 2 + filtered[2] ** 2)
    return len(signal.find_peaks(norm, distance=25, prominence=2.0)[0])


RATES = np.arange(60, 241)
TICKS = [np.arange(r, 1201, r) for r in RATES]


def same_work():
    half = samples[: len(samples) // 2 * 2].reshape(-1, 2, 3).mean(axis=1)
    jerk = np.r_[0, np.sqrt((np.diff(half, axis=0) ** 2).sum(axis=1)) * 50]
    channels = np.column_stack([half, jerk])
    starts = np.arange(0, len(channels) - 250, 50)
    window = np.hanning(251)[:-1]
    power = np.empty((2, len(starts), 257))
    for group, columns in enumerate(([0, 1, 2], [3])):
        total = 0
        for c in columns:
            frames = np.lib.stride_tricks.sliding_window_view(channels[:, c], 250)[starts]
            frames = (frames - frames.mean(axis=1, keepdims=True)) * window
            total = total + np.abs(np.fft.rfft(frames, 512, axis=1)) ** 2
        power[group] = total
    ticks = np.arange(1201) / 120 / (50 / 512)
    near = np.rint(ticks).astype(int)
    near[near == 0] = 1
    d = ticks - near
    scores = 0
    for group in range(2):
        p = power[group]
        fine = p[:, near] + 0.5 * d * (
            p[:, near + 1] - p[:, near - 1] + d * (p[:, near - 1] - 2 * p[:, near] + p[:, near + 1])
        )
        fine /= p[:, 5:104].sum(axis=1, keepdims=True)
        stride = np.stack([fine[:, t].sum(axis=1) for t in TICKS], axis=1)
        step = np.stack([fine[:, t[1::2]].sum(axis=1) for t in TICKS], axis=1)
        scores = scores - np.log1p(-np.clip(stride * 0.4, 0, 0.97)) - np.log1p(-np.clip(step * 0.4, 0, 0.97))
    rates = RATES[scores.argmax(axis=1)]
    turns = np.cumsum(np.interp(np.arange(len(jerk)), starts + 125, rates)) / 60 / 50
    envelope = (jerk - jerk.mean()) * np.exp(-2j * np.pi * turns)
    envelope = scipy.ndimage.uniform_filter1d(envelope.real, 36) + 1j * scipy.ndimage.uniform_filter1d(envelope.imag, 36)
    phase = turns + np.unwrap(np.angle(envelope)) / (2 * np.pi)
    return int(phase[-1] - phase[0])


def floor():
    return float((samples * samples).sum())


def best(function, repeats):
    function()
    times = []
    for _ in range(repeats):
        start = time.process_time()
        result = function()
        times.append(time.process_time() - start)
    return {"ms": 1000 * min(times), "result": result}


import scipy.ndimage  # noqa: E402

print(
    json.dumps(
        {
            "tool": f"scipy {scipy.__version__}, numpy {np.__version__}",
            "kernels": best(kernels, 15),
            "sameWork": best(same_work, 7),
            "floor": best(floor, 15),
        }
    )
)
