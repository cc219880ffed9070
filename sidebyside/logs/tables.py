"""Reads a table of numbers with pandas or NumPy, and says how long it took, as JSON."""
import json
import resource
import sys
import time

tool, path, repeats = sys.argv[1], sys.argv[2], int(sys.argv[3])
if tool == "pandas":
    import pandas

    version = pandas.__version__

    def read():
        return pandas.read_csv(path, engine="c")

    def means(table):
        return [float(table[name].mean()) for name in table.columns]

else:
    import numpy

    version = numpy.__version__

    def read():
        return numpy.loadtxt(path, delimiter=",", skiprows=1)

    def means(table):
        return [float(table[:, k].mean()) for k in range(table.shape[1])]


seconds = []
for _ in range(repeats):
    table = None
    begun = time.perf_counter()
    table = read()
    seconds.append(time.perf_counter() - begun)
print(json.dumps({
    "version": version, "seconds": seconds, "rows": len(table), "means": means(table),
    "peak_bytes": 1024 * resource.getrusage(resource.RUSAGE_SELF).ru_maxrss,
}))
