#!/usr/bin/env python3
# bench_each.py - soffit-cli assess --each: cases a second, and what a second core brings.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: bench_each.py SOFFIT_CLI [CASES [GRADE]]      GRADE: --live (else), --fine or "rest"
# Made three-unit cases.  One and two workers take turns, so that a machine shared with others slows both alike; the middle of the
# pairs counts.  Where it is allowed (chrt -f 1) others have to wait.
import os
import statistics
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import made_cases

PAIRS = 5
FIRST = ["chrt", "-f", "1"]


def first_allowed():
    try:
        return subprocess.run([*FIRST, "true"], capture_output=True, check=False).returncode == 0
    except OSError:
        return False


def run(command, workers, files):
    """Seconds by the clock, and of the processors."""
    start, before = time.monotonic(), os.times()
    p = subprocess.run([*command, "--workers", str(workers)], input="\n".join(files).encode(), stdout=subprocess.DEVNULL, check=False)
    after = os.times()
    if p.returncode not in (0, 1):
        sys.exit("some cases have no answer: no measure")
    return time.monotonic() - start, after.children_user + after.children_system - before.children_user - before.children_system


def main():
    cli = sys.argv[1]
    n = int(sys.argv[2]) if len(sys.argv) > 2 else 40
    grade = sys.argv[3] if len(sys.argv) > 3 else "--live"
    command = [cli, "assess", "--each"] + ([grade] if grade != "rest" else [])
    first = first_allowed()
    if first:
        command = FIRST + command
    with tempfile.TemporaryDirectory() as folder:
        files = made_cases.write_cases(folder, n, 1, three_units=True)
        run(command, 2, files)  # the files are then in memory
        pairs = [(run(command, 1, files), run(command, 2, files)) for _ in range(PAIRS)]
    print(f"{n} made three-unit cases, {grade}, {PAIRS} pairs" + (", before all others (chrt -f 1)" if first else ""))
    print("workers   cases/s   s for 1000   processor s a case")
    for k in range(2):
        wall = statistics.median(pair[k][0] for pair in pairs)
        used = statistics.median(pair[k][1] for pair in pairs)
        print(f"{k + 1:7d} {n / wall:9.1f} {1000 * wall / n:12.1f} {used / n:20.4f}")
    print(f"two workers over one: {statistics.median(one[0] / two[0] for one, two in pairs):.2f} times the cases a second")


if __name__ == "__main__":
    main()
