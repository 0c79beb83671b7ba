/* card.h - what is to be done with one radio now: the wanted sweeps, taken and not, and whether it may be keyed at all
 *
 * Chosen out of the findings, and of what would prove them; nothing is judged here. Owns nothing but its own list: the findings outlive it.
 */
#pragma once

#include "core/findings/findings.h"

/* What a wanted sweep is, in the order in which they are taken. */
typedef enum {
  SP_WANTED_KEYED,    /* the first, with the key down */
  SP_WANTED_AGAIN,    /* the same with other settings: `reason` */
  SP_WANTED_STEP,     /* with more_db more attenuation before the mixer */
  SP_WANTED_UNKEYED,  /* with the key up */
  SP_WANTED_NOTCHED,  /* through a notch, notch_db deep */
  SP_WANTED_STRETCH,  /* a stretch alone, from_hz to to_hz */
  SP_WANTED_SILENCE,  /* keyed and unkeyed again, where what stands at at_hz is silent */
  SP_WANTED_ELSEWHERE /* no sweep: `reason` says what is to be done at the desk */
} SpWantedKind;
const char *sp_wanted_name (SpWantedKind kind); /* "keyed" "again" "step" "unkeyed" "notched" "stretch" "silence" "elsewhere" */
SpPurpose sp_wanted_purpose (SpWantedKind kind);

/* Numbers are NaN where nobody knows them, or where they are of another kind. */
typedef struct {
  SpWantedKind kind;
  gboolean done;          /* it is on the bench, and judging uses it */
  guint n;                /* how many are, with these numbers; 0: not done */
  const SpReason *reason; /* what asks for it: a would_prove or would_close; NULL: done, or nothing but that it is usual */
  double attenuation_db;  /* KEYED, STRETCH: the analyzer's */
  double more_db;         /* STEP */
  gboolean pad;           /* STEP: by a pad, before the analyzer */
  double notch_db;
  double from_hz, to_hz, at_hz;
  /* Of one that is not done: how long the key is down, in each of so many parts, and the pause between them */
  double parts, key_down_s, pause_s;
  SpTimeBasis basis; /* of key_down_s */
} SpWantedSweep;

typedef struct {
  guint condition;
  guint n;
  SpWantedSweep *wanted; /* by kind; of one kind those that are done first */
  int now;               /* the first that is not done and is a sweep; -1: none is */
  gboolean again;        /* the last sweep may be taken once more: there is one, and it would burn nothing; `last` is what it was for */
  SpPurpose last;
  int next;       /* the next condition in the bench's order, from the first again behind the last, of which a sweep is wanted; -1: none */
  double power_w; /* P or the rated power, whichever is greater; NaN: neither is known, and nobody can tell whether anything burns */
  const SpReason *burns; /* the worst UNSAFE at that power: it must not be keyed; NULL */
  double next_power_w;   /* the same of `next` */
  const SpReason *next_burns;
  GPtrArray *reasons; /* references that `wanted` borrows */
} SpCard;

/* The sweep that is wanted now would burn something; and: it is taken with the key down, and nothing is known that would burn. */
gboolean sp_card_forbids (const SpCard *card);
gboolean sp_card_keys (const SpCard *card);
/* What is to be done now: "do-not-key", a wanted sweep's name, or where none is wanted "elsewhere" or "done". */
const char *sp_card_now_name (const SpCard *card);

/* (transfer full). Some milliseconds at most. */
SpCard *sp_card_new (const SpFindings *findings, guint condition);
void sp_card_free (SpCard *card);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpCard, sp_card_free)
