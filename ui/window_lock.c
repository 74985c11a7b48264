/* window_lock.c - the bar that tells who has the case, and what can be done about it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * It has a bar of its own, so that no other message takes its place while somebody reads. */
#include "ui/canvas/canvas.h"
#include "ui/merge_dialog.h"
#include "ui/remark_dialog.h"
#include "ui/trace/trace_page.h"
#include "ui/window_private.h"
#include "ui/words.h"
#include <string.h>

#define BUTTONS_MOST 2

typedef void (*LockAct)(SoffitWindow *self);
typedef struct {
  char *text; /* owned; NULL: nothing to tell */
  const char *button[BUTTONS_MOST];
  LockAct act[BUTTONS_MOST];
  int n_button;
} LockTold;

/* "09:05" of today, else with its day; "" when not understood. */
static char *time_words(const char *iso)
{
  g_autoptr(GDateTime) utc = g_date_time_new_from_iso8601(iso ? iso : "", NULL);
  g_autoptr(GDateTime) then = utc ? g_date_time_to_local(utc) : NULL;
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  if (!then)
    return g_strdup("–");
  bool today = g_date_time_get_year(then) == g_date_time_get_year(now) &&
               g_date_time_get_day_of_year(then) == g_date_time_get_day_of_year(now);
  return g_date_time_format(then, today ? _("%H:%M") : _("%Y-%m-%d %H:%M"));
}

/* ---- what is done ---- */

static void act_take_over(SoffitWindow *self)
{
  if (session_take_lock(self->session, true))
    message_bar_clear(SOFFIT_MESSAGE_BAR(self->message));
  else
    window_error(self, _("The case cannot be had now. Try again in a moment."));
}

static void act_edit(SoffitWindow *self)
{
  session_take_lock(self->session, false);
}

/* To a place of the drawing first; with the pin in the hand already, without a place. */
static void act_remark(SoffitWindow *self)
{
  SoffitCanvas *canvas =
      SOFFIT_CANVAS(trace_page_canvas(SOFFIT_TRACE_PAGE(self->page[WORKSPACE_TRACE])));
  if (self->at == WORKSPACE_TRACE && canvas_pin_begin(canvas))
    return;
  canvas_pin_drop(canvas);
  remark_dialog_new(GTK_WINDOW(self), self->session);
}

static void act_merge(SoffitWindow *self)
{
  message_bar_clear(SOFFIT_MESSAGE_BAR(self->message));
  merge_dialog_new(GTK_WINDOW(self), self->session);
}

static void act_save_as(SoffitWindow *self)
{
  window_save(self, true);
}

/* ---- what is told ---- */

static void told_button(LockTold *told, const char *words, LockAct act)
{
  told->button[told->n_button] = words;
  told->act[told->n_button++] = act;
}

static void told_of_others(SoffitSession *session, LockTold *told)
{
  const LockHolder *holder = session_lock_holder(session);
  const char *name = holder && *holder->name ? holder->name : _("Somebody");
  g_autofree char *time = time_words(holder ? holder->since : NULL);
  if (!session_lock_lost(session)) {
    told->text = g_strdup_printf(_("Opened by %s since %s. Read only."), name, time);
    told_button(told, _("Take over"), act_take_over);
  } else if (session_file_differs(session)) {
    told->text =
        g_strdup_printf(_("%s took this case over at %s and has saved it since."), name, time);
    told_button(told, _("Merge…"), act_merge);
  } else {
    told->text = g_strdup_printf(_("%s took this case over at %s. Read only."), name, time);
    told_button(told, _("Take back"), act_take_over);
  }
  told_button(told, _("Add a remark"), act_remark);
}

/* Where the work is that is not in the file. */
static void told_work(SoffitSession *session, LockTold *told)
{
  const char *kept = session_kept_beside(session);
  if (!told->text || !session_modified(session))
    return;
  g_autofree char *base = kept ? g_path_get_basename(kept) : NULL,
                  *work = base ? g_strdup_printf(_("Your work was kept beside it: %s."), base)
                               : g_strdup(_("Your work that is not saved yet is still here."));
  char *text = g_strdup_printf("%s %s", told->text, work);
  g_free(told->text);
  told->text = text;
}

static LockTold told_make(SoffitSession *session)
{
  LockTold told = {0};
  const LockHolder *holder = session_lock_holder(session);
  if (!session_has_case(session))
    return told;
  switch (session_lock_state(session)) {
  case LOCK_OTHERS:
    told_of_others(session, &told);
    break;
  case LOCK_FREE:
    told.text = g_strdup_printf(_("%s has closed this case. You may work on it now."),
                                holder && *holder->name ? holder->name : _("Somebody"));
    told_button(&told, _("Work on it"), act_edit);
    break;
  case LOCK_UNWRITABLE:
    told.text = g_strdup(_("Nothing can be written beside this case: read only. Save it under "
                           "another name to change it."));
    told_button(&told, _("Save as…"), act_save_as);
    told_button(&told, _("Try again"), act_edit);
    break;
  case LOCK_MINE:
  default:
    if (session_file_differs(session)) {
      told.text = g_strdup(_("The file was changed by somebody else since you opened it."));
      told_button(&told, _("Merge…"), act_merge);
    }
  }
  told_work(session, &told);
  return told;
}

static void told_answered(int button, void *data)
{
  SoffitWindow *self = data;
  LockTold told = told_make(self->session);
  LockAct act = button < told.n_button ? told.act[button] : NULL;
  g_free(told.text);
  if (act)
    act(self);
  window_lock_show(self, true);
}

void window_lock_show(SoffitWindow *self, bool again)
{
  SoffitMessageBar *bar = SOFFIT_MESSAGE_BAR(self->lock_bar);
  LockTold told = told_make(self->session);
  if (again || g_strcmp0(told.text, self->lock_told) != 0) { /* what was closed stays closed */
    if (told.text)
      message_bar_ask(bar, told.text, told.button, told.n_button, told_answered, self);
    else
      message_bar_clear(bar);
  }
  g_free(self->lock_told);
  self->lock_told = told.text;
}

static void lock_changed(SoffitWindow *self)
{
  window_lock_show(self, false);
}

static void edit_refused(SoffitWindow *self)
{
  window_lock_show(self, true);
}

static void action_remark(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  act_remark(SOFFIT_WINDOW(widget));
}

void window_lock_actions(GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action(widget_class, "win.remark", NULL, action_remark);
}

GtkWidget *window_lock_bar_new(SoffitWindow *self)
{
  self->lock_bar = message_bar_new();
  g_signal_connect_swapped(self->session, "case-opened", G_CALLBACK(lock_changed), self);
  g_signal_connect_swapped(self->session, "lock-changed", G_CALLBACK(lock_changed), self);
  g_signal_connect_swapped(self->session, "state-changed", G_CALLBACK(lock_changed), self);
  g_signal_connect_swapped(self->session, "edit-refused", G_CALLBACK(edit_refused), self);
  return self->lock_bar;
}
