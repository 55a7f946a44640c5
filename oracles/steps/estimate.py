#!/usr/bin/env python3
"""An independent, ordinary estimate of step rate, with scipy: band-pass, autocorrelation of the norm, peak picking.

Usage: python3 oracles/steps/estimate.py < request.json > answer.json
Request: {"recordings": [{"name", "timeS", "normMps2", "windows": [[startS, endS], ...]}]}
Answer: {"tool", "recordings": [{"name", "ratesSpm": [one per window], "peakCount"}]}

It knows nothing of strides, of walking or of time: between 0.25 and 0.75 s (80 to 240 spm) it takes the first peak of the
autocorrelation that reaches 60 % of the highest one. It is here as a second opinion on open recordings, not as truth:
where both feet look different to the sensor it answers half the rate, which is the classic mistake.
"""
import json
import sys

import numpy as np
import scipy
from scipy import signal

RATE_HZ = 100.0


def estimate(times, norm, windows):
    grid = np.arange(times[0], times[-1], 1 / RATE_HZ)
    values = np.interp(grid, times, norm)
    if len(values) < 60:
        return [None] * len(windows), 0
    sos = signal.butter(2, [0.7, 10], "bandpass", fs=RATE_HZ, output="sos")
    filtered = signal.sosfiltfilt(sos, values)
    rates = []
    for start, end in windows:
        part = filtered[(grid >= start) & (grid < end)]
        if len(part) < 200 or part.std() < 0.5:
            rates.append(None)
            continue
        part = part - part.mean()
        lags = np.arange(len(part))
        correlation = signal.correlate(part, part, "full")[len(part) - 1 :] / (len(part) - lags)
        low, high = int(0.25 * RATE_HZ), int(0.75 * RATE_HZ)
        tops, _ = signal.find_peaks(correlation[low - 1 : high + 2])
        tops = tops + low - 1
        if len(tops) == 0 or correlation[tops].max() <= 0:
            rates.append(None)
            continue
        k = int(tops[correlation[tops] >= 0.6 * correlation[tops].max()][0])
        shift = 0.0
        if low < k < high:
            left, middle, right = correlation[k - 1 : k + 2]
            bend = 2 * middle - left - right
            shift = (right - left) / (2 * bend) if bend > 0 else 0.0
        rates.append(60 * RATE_HZ / (k + shift))
    peaks, _ = signal.find_peaks(filtered, distance=int(0.25 * RATE_HZ), prominence=1.0)
    return rates, int(len(peaks))


request = json.load(sys.stdin)
answer = {"tool": f"scipy {scipy.__version__}, numpy {np.__version__}", "recordings": []}
for recording in request["recordings"]:
    rates, count = estimate(np.array(recording["timeS"]), np.array(recording["normMps2"]), recording["windows"])
    answer["recordings"].append({"name": recording["name"], "ratesSpm": rates, "peakCount": count})
json.dump(answer, sys.stdout)
