#!/usr/bin/env python3
"""Reference values for src/engine/signal, from scipy. Run: python3 oracles/signal/make.py (writes values.json beside it)."""
import datetime
import json
import os
import sys

import numpy as np
import scipy
from scipy import signal

SEED = 20261125
rng = np.random.default_rng(SEED)
fs = 100.0
t = np.arange(400) / fs
x = (
    np.sin(2 * np.pi * 2.8 * t)
    + 0.4 * np.sin(2 * np.pi * 1.4 * t + 0.3)
    + 0.2 * rng.standard_normal(t.size)
    + 9.8
    + 0.5 * t
)
x = np.round(x, 6)  # stored exactly, so that both sides start from the same numbers

filters = []
for order, kind, cut in [
    (1, "low-pass", [5.0]),
    (2, "low-pass", [3.0]),
    (3, "low-pass", [8.0]),
    (4, "low-pass", [10.0]),
    (5, "high-pass", [0.5]),
    (2, "high-pass", [1.0]),
    (1, "band-pass", [0.2, 30.0]),
    (2, "band-pass", [0.5, 10.0]),
    (4, "band-pass", [1.0, 12.0]),
    (3, "band-pass", [0.5, 45.0]),
]:
    btype = {"low-pass": "lowpass", "high-pass": "highpass", "band-pass": "bandpass"}[kind]
    wn = cut if len(cut) > 1 else cut[0]
    sos = signal.butter(order, wn, btype, fs=fs, output="sos")
    w, h = signal.sosfreqz(sos, worN=np.array([0.3, 1.0, 2.0, 5.0, 11.0, 20.0, 40.0]), fs=fs)
    entry = {
        "order": order,
        "kind": kind,
        "cutoffsHz": cut,
        "responseHz": w.tolist(),
        "responseRe": h.real.tolist(),
        "responseIm": h.imag.tolist(),
        "sosfilt": signal.sosfilt(sos, x).tolist(),
        "sosfiltfilt": signal.sosfiltfilt(sos, x).tolist(),
    }
    if kind == "low-pass" and order in (2, 4):
        b, a = signal.butter(order, wn, btype, fs=fs)
        entry["filtfilt"] = signal.filtfilt(b, a, x).tolist()
    filters.append(entry)

y = np.round(np.cumsum(rng.standard_normal(300)) * 0.5, 1)  # rounding makes plateaus and ties of neighbours
peaks = []
for kwargs in [{}, {"height": 1.0}, {"distance": 7}, {"prominence": 1.2}, {"height": -1.0, "distance": 5, "prominence": 0.6}]:
    found, _ = signal.find_peaks(y, **kwargs)
    peaks.append({"conditions": kwargs, "indices": found.tolist()})
allPeaks, _ = signal.find_peaks(y)
prominences = signal.peak_prominences(y, allPeaks)[0]

welch = []
for nperseg, nfft in [(128, 128), (100, 128), (256, 512)]:
    f, p = signal.welch(x, fs=fs, window="hann", nperseg=nperseg, nfft=nfft)
    welch.append({"segmentLength": nperseg, "fftSize": nfft, "frequenciesHz": f.tolist(), "density": p.tolist()})

values = {
    "header": {
        "tool": f"scipy {scipy.__version__}, numpy {np.__version__}, python {sys.version.split()[0]}",
        "command": "python3 oracles/signal/make.py",
        "seed": SEED,
        "date": datetime.date.today().isoformat(),
        "units": "arbitrary; frequencies in Hz, sample rate 100 Hz",
        "tolerance": "1e-9 relative to the largest value of the vector: same algorithm, other order of additions",
    },
    "x": x.tolist(),
    "filters": filters,
    "y": y.tolist(),
    "peaks": peaks,
    "prominences": prominences.tolist(),
    "welch": welch,
}
with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "values.json"), "w") as out:
    json.dump(values, out)
    out.write("\n")
