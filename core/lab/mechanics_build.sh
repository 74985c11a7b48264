#!/bin/sh
# mechanics_build.sh - one digest over the object files that an answer depends on, as a C header.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: mechanics_build.sh OBJECT...
echo '/* mechanics_build.h - made by mechanics_build.sh: changes whenever an answer may. */'
echo "#define MECHANICS_BUILD \"$(cat "$@" | sha256sum | cut -c 1-64)\""
