#!/bin/sh
# run.sh - installs what is missing, builds, opens the demo.  Without a display: assesses the demo cases, writes a PDF.
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
cd "$(dirname "$0")/.."
. app/packages.sh
# shellcheck disable=SC2086
need_packages $packages_run

[ -f build/build.ninja ] || meson setup build --buildtype=debugoptimized >build-setup.log 2>&1 || {
  cat build-setup.log >&2
  exit 2
}
rm -f build-setup.log
program=soffit
[ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ] || program=soffit-cli
ninja -C build --quiet "app/$program" soffit-gmo # what will run, and its languages: no tests

[ "$program" = soffit-cli ] || exec build/app/soffit --demo "$@"
echo "No display: the demo cases on the command line."
status=0
build/app/soffit-cli assess data/demo/*.xml || status=$?
[ "$status" -le 1 ] || exit "$status" # 1: some do not hold, as the demo means to show
build/app/soffit-cli report data/demo/QB-02.xml -o build/QB-02.pdf || [ $? -eq 1 ]
echo "Report of QB-02: build/QB-02.pdf"
