/* lab_sample.h - the samples of a lab's figures, taken from the case files of a folder.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "lab/lab_read.h"
#include "lab/lab_stats.h"

typedef struct {
  GArray *sample;      /* LabSample, owned, in the order of the file names                    */
  guint files, unread; /* unread: no case, or no answer of it: counted nowhere else           */
  bool by_technician;  /* as the lab has it                                                   */
  char *trouble;       /* owned: settings of the lab that cannot be read, in words; NULL      */
} LabSamples;

/* What a case says; a: its answer. */
void lab_sample_take(const Assessment *a, PhraseTranslate translate, LabSample *sample);

typedef struct {
  int threads; /* 1 .. 64, each solves a case alone                                           */
  PhraseTranslate translate; /* for the words of a return; NULL = English; on any thread      */
  /* Called on any thread, one at a time; false stops it. */
  bool (*progress)(guint done, guint of, void *data);
  void *data;
} LabSamplesWish;

/* Reads and assesses (ASSESS_LIVE) every case of the folder.  NULL: the folder cannot be read
 * (GError), or it was stopped, or there is no memory (no GError). */
LabSamples *lab_samples_read(const char *folder, const LabSamplesWish *wish, GError **error);
void lab_samples_free(LabSamples *samples); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LabSamples, lab_samples_free)
