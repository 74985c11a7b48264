#!/bin/sh
# run.sh - installs what is missing, builds with gcc and clang, runs the suite plain and under ASan+UBSan.
# SPDX-License-Identifier: GPL-3.0-or-later
# Closes with one line: N passed, N failed.
set -u
cd "$(dirname "$0")/.."
. app/packages.sh
# shellcheck disable=SC2086
need_packages $packages_run $packages_test
export OPENBLAS_NUM_THREADS=1
passed=0 failed=0

# suite NAME BUILD_DIR TARGETS LEFT_OUT [MESON_ARGUMENT...]: builds these targets and counts its tests but those of the suites left
# out: gcc runs all; another compiler cannot change what people and other programs do, and neither it nor the sanitizers find anything
# new in hundreds of the same; the sanitizers make gcc warn of what is not there
suite() {
  name=$1 dir=$2 targets=$3 without=
  for left in $4; do without="$without --no-suite $left"; done
  shift 4
  echo "== $name"
  began=$(date +%s)
  again=
  [ -f "$dir/build.ninja" ] && again=--reconfigure # tools may have come since
  # shellcheck disable=SC2086
  if ! meson setup $again "$dir" "$@" >"$dir.log" 2>&1 || ! ninja -C "$dir" $targets >>"$dir.log" 2>&1; then
    tail -n 40 "$dir.log"
    failed=$((failed + 1))
    return
  fi
  # shellcheck disable=SC2086
  meson test -C "$dir" --no-rebuild --num-processes "$at_once" --print-errorlogs $without --timeout-multiplier "${slow:-1}" >"$dir.log" 2>&1
  ok=$(sed -n 's/^Ok: *//p' "$dir.log")
  bad=$(sed -n 's/^Fail: *//p; s/^Timeout: *//p; s/^Unexpected Pass: *//p' "$dir.log" | awk '{n += $1} END {print n + 0}')
  if [ -z "$ok" ]; then ok=0 bad=$((bad + 1)); fi
  [ "$bad" -eq 0 ] || cat "$dir.log"
  passed=$((passed + ok)) failed=$((failed + bad))
  echo "   $ok passed, $bad failed, $(($(date +%s) - began)) s"
}

at_once=$(($(nproc) + 1)) # tests with a screen wait half of their time
suite gcc build all '' -Dwerror=true
CC=clang
command -v ccache >/dev/null && CC='ccache clang' # meson looks for it only where no compiler is named
export CC CC_LD=gold # takes a third of the time; the first build has the usual one
# each file is read alone here: what it forgets to include would be hidden by what is read once for all
suite clang build-clang all 'tree po person other many' -Dwerror=true -Ddebug=false -Db_pch=false
unset CC
slow=6
export ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1 LSAN_OPTIONS=suppressions=$PWD/tests/leaks.txt
export UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
suite 'gcc, address and undefined-behaviour sanitizers' build-asan 'meson-test-prereq soffit-gmo' 'tree po many' \
  -Db_sanitize=address,undefined -Db_lundef=false -Doptimization=1 -Dc_args='-g1 -fsanitize=float-divide-by-zero,float-cast-overflow'
rm -f build.log build-clang.log build-asan.log

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
