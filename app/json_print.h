/* json_print.h - a line of JSON on standard output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/json_line.h"

void json_end_print(GString *line); /* prints "}\n" behind it and frees */
