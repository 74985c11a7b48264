/* verdict_head.c - see verdict_head.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/verdict_head.h"
#include "ui/sign.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define FADE_MS 120

struct _SoffitVerdictHead {
  GtkBox parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *sign, *fade, *word[2], *carries;
  int front; /* which word is shown */
  Verdict verdict;
};

G_DEFINE_FINAL_TYPE(SoffitVerdictHead, verdict_head, GTK_TYPE_BOX)

/* "Rework", as the first word of a line. */
static char *word_text(Verdict verdict)
{
  if (verdict == VERDICT_NONE)
    return g_strdup("–");
  const char *word = words_translate(verdict_name(verdict));
  g_autofree char *first = g_utf8_substring(word, 0, 1);
  g_autofree char *upper = g_utf8_strup(first, -1);
  return g_strconcat(upper, g_utf8_next_char(word), NULL);
}

#define ONE_LINE 38 /* characters of the usual size beside the sign */

/* Why there is no verdict, or what the bridge carries. */
static char *carries_text(const Assessment *assessment, size_t focus)
{
  const ConnectorAssessment *joint = &assessment->connector[focus];
  Fault fault = assessment->fault != FAULT_NONE ? assessment->fault : joint->fault;
  if (fault != FAULT_NONE)
    return g_strdup(words_translate(fault_text(fault)));
  g_autofree char *carries = words_number(assessment->carries_n.value, 0);
  g_autofree char *range = words_range(assessment->carries_n, 0);
  g_autofree char *order = words_number(assessment->c.order_load_n, 0);
  if (!isfinite(assessment->carries_n.value))
    return g_strdup(_("Choose a material card."));
  if (assessment->weakest != focus)
    return g_strdup_printf(_("%s goes first, at %s N (%s)."),
                           assessment->connector[assessment->weakest].name, carries, range);
  return g_strdup_printf(_("Carries %s N (%s). Order: %s N."), carries, range, order);
}

static void verdict_head_update(SoffitVerdictHead *self)
{
  const Assessment *assessment = session_assessment(self->session);
  size_t focus = session_focus(self->session);
  bool known = assessment && focus < assessment->n_connector;
  Verdict verdict = known ? assessment->verdict : VERDICT_NONE;
  g_autofree char *word = word_text(verdict);
  if (verdict != self->verdict || *gtk_label_get_text(GTK_LABEL(self->word[self->front])) == '\0') {
    self->front = 1 - self->front;
    gtk_label_set_text(GTK_LABEL(self->word[self->front]), word);
    gtk_stack_set_visible_child(GTK_STACK(self->fade), self->word[self->front]);
    sign_set(SOFFIT_SIGN(self->sign), verdict);
    self->verdict = verdict;
  }
  g_autofree char *carries = known ? carries_text(assessment, focus) : g_strdup("");
  gtk_label_set_text(GTK_LABEL(self->carries), carries);
  bool longer =
      known && (assessment->weakest != focus || assessment->connector[focus].fault != FAULT_NONE ||
                g_utf8_strlen(carries, -1) > ONE_LINE);
  (longer ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->carries, "note");
  g_autofree char *spoken = g_strdup_printf("%s. %s", word, carries);
  spoken_name(GTK_WIDGET(self), spoken);
}

static void verdict_head_dispose(GObject *object)
{
  g_clear_object(&SOFFIT_VERDICT_HEAD(object)->session);
  G_OBJECT_CLASS(verdict_head_parent_class)->dispose(object);
}

static void verdict_head_class_init(SoffitVerdictHeadClass *class)
{
  G_OBJECT_CLASS(class)->dispose = verdict_head_dispose;
  gtk_widget_class_set_accessible_role(GTK_WIDGET_CLASS(class), GTK_ACCESSIBLE_ROLE_STATUS);
}

static void verdict_head_init(SoffitVerdictHead *self)
{
  gtk_box_set_spacing(GTK_BOX(self), 12);
  gtk_widget_add_css_class(GTK_WIDGET(self), "verdict");
  self->sign = sign_new(42);
  gtk_widget_set_valign(self->sign, GTK_ALIGN_CENTER);
  gtk_box_append(GTK_BOX(self), self->sign);
  self->fade = gtk_stack_new();
  gtk_stack_set_transition_type(GTK_STACK(self->fade), GTK_STACK_TRANSITION_TYPE_CROSSFADE);
  gtk_stack_set_transition_duration(GTK_STACK(self->fade), FADE_MS);
  for (int i = 0; i < 2; i++) {
    self->word[i] = gtk_label_new("");
    gtk_label_set_xalign(GTK_LABEL(self->word[i]), 0);
    gtk_widget_add_css_class(self->word[i], "word");
    gtk_stack_add_child(GTK_STACK(self->fade), self->word[i]);
  }
  self->carries = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(self->carries), 0);
  gtk_label_set_wrap(GTK_LABEL(self->carries), TRUE);
  gtk_widget_add_css_class(self->carries, "carries");
  GtkWidget *lines = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_valign(lines, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand(lines, TRUE);
  gtk_box_append(GTK_BOX(lines), self->fade);
  gtk_box_append(GTK_BOX(lines), self->carries);
  gtk_box_append(GTK_BOX(self), lines);
}

GtkWidget *verdict_head_new(SoffitSession *session)
{
  SoffitVerdictHead *self = g_object_new(SOFFIT_TYPE_VERDICT_HEAD, NULL);
  self->session = g_object_ref(session);
  g_signal_connect_object(session, "assessment-changed", G_CALLBACK(verdict_head_update), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(session, "focus-changed", G_CALLBACK(verdict_head_update), self,
                          G_CONNECT_SWAPPED);
  verdict_head_update(self);
  return GTK_WIDGET(self);
}
