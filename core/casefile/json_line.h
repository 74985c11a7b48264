/* json_line.h - one JSON object on one line, keys in the order written (RFC 8259).
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers in the shortest form of at most 9 digits, '.' whatever the locale; NaN and infinity
 * become null. */
#pragma once
#include <glib.h>

GString *json_begin(void); /* "{" */
void json_number(GString *line, const char *key, double value);
void json_text(GString *line, const char *key, const char *value);
void json_open(GString *line, const char *key,
               char bracket);                     /* key: { or key: [; no key inside [ ] */
void json_item(GString *line, const char *value); /* a text inside [ ] */
void json_value(GString *line, double value);     /* a number inside [ ] */
void json_close(GString *line, char bracket);
void json_end(GString *line); /* "}\n" */
