#!/bin/sh
# check.sh - the shape of the tree: direction of dependence, who may use which library, sizes, names, format.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
cd "$1" || exit 1
# none DESCRIPTION: what comes on standard input are the offenders
none() {
  found=$(cat)
  if [ -z "$found" ]; then
    echo "ok - $1"
  else
    echo "not ok - $1"
    echo "$found" | sed 's/^/# /' | head -n 20
  fi
}
code=$(find core ui app tests \( -name '*.c' -o -name '*.h' \) | sort)
includes() { grep -nE "^ *# *include *[<\"]($1)" $2 /dev/null; }
in_core() { echo "$code" | grep '^core/'; }
floor() { echo "$code" | grep "^core/$1/"; }

{
includes 'gtk/|gdk/|gsk/|cairo|pango' "$(in_core)" | none 'core does not know the screen'
includes 'ui/|app/' "$(in_core)" | none 'core uses neither ui nor app'
includes 'app/' "$(echo "$code" | grep '^ui/')" | none 'ui does not use app'
includes 'gtk/|gdk/|gsk/' "$(echo "$code" | grep '^ui/drawing/')" | none 'pictures do not know GTK'
includes 'libxml/' "$(echo "$code" | grep -v '^core/casefile/' | grep -v '^tests/')" | none 'libxml2 in core/casefile only'
includes 'gdk-pixbuf/' "$(echo "$code" | grep -v '^ui/photo/' | grep -v '^tests/')" | none 'gdk-pixbuf in ui/photo only'
includes 'gtk/|gdk/|gsk/' "$(echo "$code" | grep '^ui/photo/')" | none 'photos do not know GTK'
includes 'csv\.h' "$(echo "$code" | grep -v '^core/casefile/bars_csv.c')" | none 'libcsv in core/casefile/bars_csv.c only'
includes 'sodium' "$(echo "$code" | grep -v '^core/record/' | grep -v '^tests/')" | none 'libsodium in core/record only'
includes 'qrencode' "$(echo "$code" | grep -v '^ui/drawing/qr_code.c')" | none 'libqrencode in ui/drawing/qr_code.c only'
includes 'lab/' "$(in_core | grep -v '^core/lab/')" | none 'only core/lab, ui and app know the lab'
includes 'practice/' "$(in_core | grep -v '^core/practice/')" | none 'only core/practice, ui and app know the school bench'
includes '(suitesparse/)?(cholmod|amd)|cblas|lapacke' "$(echo "$code" | grep -v '^core/mechanics/' | grep -v '^tests/')" | none 'CHOLMOD, LAPACK and BLAS in core/mechanics only'
includes 'glib|gio' "$(floor base; floor outline; floor mesh; floor mechanics; floor strength)" | none 'mathematics without GLib'
# a floor includes its own and lower floors only: base < outline < mesh < mechanics < strength < casefile < verdict < record
above=''
for name in record verdict casefile strength mechanics mesh outline base; do
  [ -z "$above" ] || includes "($above)/" "$(floor $name)"
  above="${above:+$above|}$name"
done | none 'floors of core look downward only'
grep -nE '\b(printf|fprintf|puts|perror|abort|exit|g_print|g_printerr|g_error|assert) *\(' $(in_core) | grep -v 'snprintf' | none 'core neither prints nor aborts'
wc -l $code | awk '$2 != "total" && $1 > ($2 ~ /^tests/ ? 600 : 500) {print $2 ": " $1 " lines"}' | none 'no file above 500 lines (tests 600)'
for f in $code; do head -n 1 "$f" | grep -q "^/\* $(basename "$f") - " || echo "$f"; done | none 'first line: name - purpose'
for f in $code; do head -n 3 "$f" | grep -q 'SPDX-License-Identifier: GPL-3.0-or-later' || echo "$f"; done | none 'licence line in each file'
find core ui app tests -name '*util*' -o -name '*misc*' -o -name '*common*' -o -name '*helper*' -o -name '*manager*' | none 'no file named after nothing'
grep -rnE 'g_test_(skip|incomplete)' tests --include='*.c' | none 'no skipped test'
grep -rnE '/(home|work|farm)/' core ui app tests data po README.md DEVELOPERS.md 2>/dev/null | grep -v 'tests/tree/check.sh' | none 'no path of a machine'
if [ -d .git ]; then
  git ls-files | cut -d/ -f1 | sort -u | grep -vxE 'README.md|DEVELOPERS.md|LICENSE|meson.build|app|core|ui|tests|po|data|\..*' | none 'top level as agreed'
fi
if command -v clang-format-14 >/dev/null; then
  # shellcheck disable=SC2086
  clang-format-14 --dry-run -Werror $code 2>&1 | sed -nE 's/^([^ :]+):[0-9]+:[0-9]+: error.*/\1/p' | sort -u | none 'formatter leaves no difference'
fi
for f in $(echo "$code" | grep '^core/.*\.h$'); do
  printf '#include "%s"\n' "${f#core/}" | ${CC:-cc} -std=gnu17 -fsyntax-only -Icore $(pkg-config --cflags glib-2.0) -x c - 2>/dev/null || echo "$f"
done | none 'every header of core compiles alone'
} | awk '/^(not )?ok/ {n++} {print} END {print "1.." n}'
