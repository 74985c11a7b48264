#!/usr/bin/env python3
# bench_scroll.py - a large lab made for it, a display of its own, then bench_scroll in both views of the queue.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: bench_scroll.py BENCH_SCROLL MADE_CASES [CASES [FOLDER]].  Cairo draws, as where there is no GL.
import os
import subprocess
import sys
import tempfile

bench, made, cases = sys.argv[1], sys.argv[2], sys.argv[3] if len(sys.argv) > 3 else '10000'
with tempfile.TemporaryDirectory() as home:
    lab = sys.argv[4] if len(sys.argv) > 4 else os.path.join(home, 'lab')
    if not os.path.isdir(lab):
        subprocess.run([sys.executable, made, lab, cases, '3'], check=True)
    places = ('HOME', 'XDG_STATE_HOME', 'XDG_CACHE_HOME', 'XDG_CONFIG_HOME', 'XDG_DATA_HOME')
    env = {**os.environ, **{place: home for place in places}, 'GDK_BACKEND': 'x11', 'GSK_RENDERER': 'cairo', 'GDK_DEBUG': 'gl-disable',
           'GSETTINGS_BACKEND': 'memory', 'GTK_A11Y': 'none'}
    codes = [subprocess.run(['xvfb-run', '-a', '-s', '-screen 0 1440x900x24', bench, lab, view], env=env).returncode
             for view in ('rows', 'table')]
    sys.exit(max(codes))
