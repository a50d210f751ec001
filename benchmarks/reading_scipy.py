"""Seconds that numpy and SciPy take to read a log, smooth it and find its peaks; prints one number."""

import sys
import time

import numpy as np
from scipy.signal import find_peaks, savgol_filter

start = time.perf_counter()
table = np.loadtxt(sys.argv[1], delimiter=",", skiprows=1)
force = savgol_filter(table[:, 1], 11, 2)
find_peaks(force, prominence=1.0, wlen=2001)
print(time.perf_counter() - start)
