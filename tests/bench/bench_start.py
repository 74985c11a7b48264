#!/usr/bin/env python3
# bench_start.py - the window from a cold start to its first picture, and the memory it then holds.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: bench_start.py SOFFIT.  Needs xvfb-run; without it the benchmark is left out (77).
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

RUNS = 7
REST_S = 4  # until the demo case has been assessed


def first_picture(program, env):
    start = time.monotonic()
    subprocess.run([program, "--demo", "--exit-when-drawn"], env=env, check=True, timeout=60,
                   stderr=subprocess.DEVNULL)
    return time.monotonic() - start


def memory_mb(program, env):
    window = subprocess.Popen([program, "--demo"], env=env, stderr=subprocess.DEVNULL)
    try:
        time.sleep(REST_S)
        with open(f"/proc/{window.pid}/status", encoding="ascii") as status:
            kb = [int(line.split()[1]) for line in status if line.startswith("VmRSS")]
        return kb[0] / 1024
    finally:
        window.terminate()
        window.wait(timeout=20)


def main():
    if len(sys.argv) == 2:
        if not shutil.which("xvfb-run"):
            print("xvfb-run is missing: left out")
            return 77
        os.execvp("xvfb-run", ["xvfb-run", "-a", sys.executable, __file__, "inside", sys.argv[1]])
    program = sys.argv[2]
    with tempfile.TemporaryDirectory() as home:
        env = dict(os.environ, HOME=home, XDG_STATE_HOME=home, XDG_CACHE_HOME=home,
                   XDG_CONFIG_HOME=home, XDG_DATA_HOME=home)
        env.pop("DBUS_SESSION_BUS_ADDRESS", None)
        took = sorted(first_picture(program, env) for _ in range(RUNS))
        print(f"{'start to first picture':<32} best {took[0] * 1000:6.0f} ms, "
              f"median {statistics.median(took) * 1000:6.0f} ms")
        print(f"{'memory with the demo case':<32} {memory_mb(program, env):6.0f} MB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
