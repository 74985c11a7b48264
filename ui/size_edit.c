/* size_edit.c - see size_edit.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/size_edit.h"
#include "ui/words.h"
#include <math.h>
#include <string.h>

bool size_parse(const char *text, double *value)
{
  g_autofree char *plain = g_strstrip(g_strdup(text));
  static const char *const unit[] = {"mm", "°", "deg"};
  for (size_t i = 0; i < G_N_ELEMENTS(unit); i++)
    if (g_str_has_suffix(plain, unit[i])) {
      plain[strlen(plain) - strlen(unit[i])] = '\0';
      g_strchomp(plain);
      break;
    }
  if (*plain == '\0' || strspn(plain, "0123456789.,") != strlen(plain))
    return false; /* no sign, no exponent, no hexadecimal */
  g_strdelimit(plain, ",", '.');
  char *end;
  double number = g_ascii_strtod(plain, &end);
  if (*end != '\0' || end == plain || !isfinite(number))
    return false; /* "1.2.3", "." */
  *value = number;
  return true;
}

char *size_number(SizeKind kind, double value)
{
  return words_number(value, size_is_angle(kind) ? 1 : 2);
}

const char *size_unit(SizeKind kind)
{
  return size_is_angle(kind) ? "°" : _("mm");
}

static const char *const step_name[SIZE_KINDS] = {
    [SIZE_NECK_HEIGHT] = N_("Set neck height"), [SIZE_NECK_WIDTH] = N_("Set neck width"),
    [SIZE_RADIUS] = N_("Set roof radius"),      [SIZE_DEPTH] = N_("Set depth"),
    [SIZE_OPENING] = N_("Set opening angle"),   [SIZE_MOUTH] = N_("Set width at the mouth"),
};

static char *no_room(SoffitSession *session, SizeKind kind)
{
  double low, high;
  if (connector_size_range(session_case(session), session_focus(session), kind, &low, &high))
    return g_strdup(_("This size cannot be read from the outline as it is drawn. Draw an embrasure "
                      "first."));
  g_autofree char *least = size_number(kind, low), *most = size_number(kind, high);
  return g_strdup_printf(_("There is no room for that. Possible here: %s to %s %s."), least, most,
                         size_unit(kind));
}

char *size_type(SoffitSession *session, SizeKind kind, const char *text)
{
  double value;
  if (!size_parse(text, &value)) {
    g_autofree char *example = size_number(kind, size_is_angle(kind) ? 40 : 0.55);
    return g_strdup_printf(_("“%s” is no size. Type a number such as %s."), text, example);
  }
  Case *c = session_edit_begin(session, step_name[kind]);
  if (c == NULL)
    return g_strdup(_(fault_text(session_edit_fault(session))));
  if (connector_size_set(c, session_focus(session), kind, value) == FAULT_NONE) {
    session_edit_end(session);
    return NULL;
  }
  session_edit_cancel(session);
  return no_room(session, kind);
}
