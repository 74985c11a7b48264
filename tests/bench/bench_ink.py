#!/usr/bin/env python3
# bench_ink.py - how soon the ink shows under the pen: the real window, a drawn stroke, software GL and cairo.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: bench_ink.py BENCH_INK.  Needs xvfb-run and xdotool; without them the benchmark is left out
# (77).  Aim with the GL renderer: p50 within one frame + 8 ms (25 ms), p95 within two (33 ms).
import os
import shutil
import subprocess
import sys
import tempfile

SCREENS = ("1440x900", "2560x1440")
RENDERERS = ("gl", "cairo")


def main():
    program = sys.argv[1]
    if len(sys.argv) == 2:
        missing = [name for name in ("xvfb-run", "xdotool") if not shutil.which(name)]
        if missing:
            print(f"{', '.join(missing)} missing: left out")
            return 77
        for screen in SCREENS:
            subprocess.run(["xvfb-run", "-a", "-s", f"-screen 0 {screen}x24", sys.executable,
                            __file__, program, screen], check=True)
        return 0
    with tempfile.TemporaryDirectory() as home:
        env = dict(os.environ, HOME=home, XDG_STATE_HOME=home, XDG_CACHE_HOME=home,
                   XDG_CONFIG_HOME=home, XDG_DATA_HOME=home, GTK_A11Y="none", GDK_BACKEND="x11")
        env.pop("DBUS_SESSION_BUS_ADDRESS", None)
        for renderer in RENDERERS:
            env["GSK_RENDERER"] = renderer
            subprocess.run([program, f"{sys.argv[2]} {renderer}"], env=env, check=True, timeout=60,
                           stderr=subprocess.DEVNULL)
    return 0


if __name__ == "__main__":
    sys.exit(main())
