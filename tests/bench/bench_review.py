#!/usr/bin/env python3
# bench_review.py - a large lab made for it, a display of its own, then bench_review.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: bench_review.py BENCH_REVIEW MADE_CASES [CASES [jumps]]
import os
import subprocess
import sys
import tempfile

bench, made, cases = sys.argv[1], sys.argv[2], sys.argv[3] if len(sys.argv) > 3 else '10000'
with tempfile.TemporaryDirectory() as home:
    lab = os.path.join(home, 'lab')
    os.mkdir(lab)
    subprocess.run([sys.executable, made, lab, cases, '3'], check=True)
    places = ('HOME', 'XDG_STATE_HOME', 'XDG_CACHE_HOME', 'XDG_CONFIG_HOME', 'XDG_DATA_HOME')
    env = {**os.environ, **{place: home for place in places}, 'GDK_BACKEND': 'x11', 'GDK_DEBUG': 'gl-disable',
           'GSETTINGS_BACKEND': 'memory', 'GTK_A11Y': 'none'}
    sys.exit(subprocess.run(['xvfb-run', '-a', '-s', '-screen 0 1440x900x24', bench, lab, *sys.argv[4:]], env=env).returncode)
