/* tick_edit.c - see tick_edit.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/tick_edit.h"
#include "base/phrase.h"

bool initials_valid(const char *initials)
{
  if (!g_utf8_validate(initials, -1, NULL))
    return false;
  glong n = g_utf8_strlen(initials, -1);
  for (const char *p = initials; *p; p = g_utf8_next_char(p))
    if (!g_unichar_isalnum(g_utf8_get_char(p)) && *p != '.')
      return false;
  return n >= 1 && n <= INITIALS_MOST;
}

static bool step_find(const Case *c, const char *step, guint *place)
{
  for (guint i = 0; i < c->tick->len; i++) {
    const Tick *tick = g_ptr_array_index(c->tick, i);
    *place = i;
    if (g_strcmp0(tick->step, step) == 0)
      return true;
  }
  return false;
}

bool tick_step(SoffitSession *session, const char *step, const char *initials)
{
  guint place;
  if (!initials_valid(initials) || step_find(session_case(session), step, &place))
    return false;
  Case *c = session_edit_begin(session, N_("Tick step"));
  if (c == NULL)
    return false;
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  Tick *tick = g_new(Tick, 1);
  *tick = (Tick){g_strdup(step), g_strdup(initials), g_date_time_format(now, "%FT%T%:z")};
  g_ptr_array_add(c->tick, tick);
  return session_edit_end(session);
}

bool untick_step(SoffitSession *session, const char *step)
{
  guint place;
  if (!step_find(session_case(session), step, &place))
    return false;
  Case *c = session_edit_begin(session, N_("Open step again"));
  if (c == NULL)
    return false;
  g_ptr_array_remove_index(c->tick, place);
  return session_edit_end(session);
}
