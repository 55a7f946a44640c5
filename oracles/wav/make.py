"""Small WAV files written by scipy and by Python's own wave module, with the samples that went in.

Run from the checkout:  python3 oracles/wav/make.py > oracles/wav/values.json
"""

import base64
import io
import json
import sys
import wave

import numpy as np
import scipy
from scipy.io import wavfile

SEED = 20261125
N = 40
RATE = 22050

rng = np.random.default_rng(SEED)
mono = np.clip(rng.normal(0, 0.3, N), -0.99, 0.99)
stereo = np.clip(rng.normal(0, 0.3, (N, 2)), -0.99, 0.99)
mono[:3] = [0, 0.5, -0.5]


def scipy_file(name, data, rate=RATE):
    buffer = io.BytesIO()
    wavfile.write(buffer, rate, data)
    return name, buffer.getvalue(), rate


def wave_file(name, ints, width, channels, rate=RATE):
    buffer = io.BytesIO()
    with wave.open(buffer, "wb") as out:
        out.setnchannels(channels)
        out.setsampwidth(width)
        out.setframerate(rate)
        raw = b"".join(int(v).to_bytes(width, "little", signed=True) for v in np.ravel(ints))
        out.writeframes(raw)
    return name, buffer.getvalue(), rate


def entry(made, expected):
    name, data, rate = made
    return {
        "name": name,
        "base64": base64.b64encode(data).decode(),
        "sampleRateHz": rate,
        "samples": [float(v) for v in expected],
    }


def quantise(values, bits):
    full = 2 ** (bits - 1)
    return np.round(values * full).astype(np.int64)


entries = []
eight = (quantise(mono, 8) + 128).astype(np.uint8)
entries.append(entry(scipy_file("pcm 8 mono", eight), (eight.astype(float) - 128) / 128))
for bits, kind in ((16, np.int16), (32, np.int32)):
    q = quantise(mono, bits).astype(kind)
    entries.append(entry(scipy_file(f"pcm {bits} mono", q), q / 2.0 ** (bits - 1)))
    q2 = quantise(stereo, bits).astype(kind)
    entries.append(entry(scipy_file(f"pcm {bits} stereo", q2, 48000), (q2 / 2.0 ** (bits - 1)).mean(axis=1)))
q = quantise(mono, 24)
entries.append(entry(wave_file("pcm 24 mono", q, 3, 1, 8000), q / 2.0**23))
q2 = quantise(stereo, 24)
entries.append(entry(wave_file("pcm 24 stereo", q2, 3, 2, 44100), (q2 / 2.0**23).mean(axis=1)))
for bits, kind in ((32, np.float32), (64, np.float64)):
    f = mono.astype(kind)
    entries.append(entry(scipy_file(f"float {bits} mono", f), f))
    f2 = stereo.astype(kind)
    entries.append(entry(scipy_file(f"float {bits} stereo", f2, 96000), f2.mean(axis=1)))

json.dump(
    {
        "header": {
            "tool": f"scipy.io.wavfile {scipy.__version__}, Python {sys.version.split()[0]} module wave",
            "command": "python3 oracles/wav/make.py > oracles/wav/values.json",
            "seed": SEED,
            "date": "2026-11-25",
            "units": "full scale is 1; samples divided by 2^(bits-1)",
            "tolerance": "absolute 1e-7: samples are kept as 32-bit floats",
        },
        "files": entries,
    },
    sys.stdout,
    indent=1,
)
