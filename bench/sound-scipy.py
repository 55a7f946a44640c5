"""The same first stage in scipy: half-octave bands of 20 ms Hann frames every 10 ms, log flux, peaks.

Reads seconds and sample rate from the command line, prints the seconds it took (median of five, computing time only).
"""

import sys
import time

import numpy as np
from scipy.signal import find_peaks, stft

seconds, rate = float(sys.argv[1]), int(sys.argv[2])
samples = np.random.default_rng(1).normal(0, 0.1, int(seconds * rate)).astype(np.float32)
hop = round(rate / 100)
times = []
for _ in range(5):
    started = time.process_time()
    frequencies, _, spectrum = stft(
        samples, rate, nperseg=2 * hop, noverlap=hop, nfft=2 ** int(np.ceil(np.log2(2 * hop)))
    )
    power = np.abs(spectrum) ** 2
    flux = np.zeros(power.shape[1])
    low = 60.0
    while low < min(8000, 0.45 * rate):
        band = (frequencies >= low) & (frequencies < low * np.sqrt(2))
        low *= np.sqrt(2)
        if not band.any():
            continue
        level = power[band].mean(axis=0)
        loud = np.log1p(level / np.quantile(level, 0.25))
        flux[2:] += np.maximum(0, loud[2:] - loud[:-2])
    find_peaks(flux, height=np.median(flux) * 2, distance=20)
    times.append(time.process_time() - started)
print(sorted(times)[2])
