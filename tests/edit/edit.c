/* edit.c - every edit: what it changes, what it shares, what it refuses; the bench it was given stays as it was */
#include "core/bench/sheet/sheet.h"
#include "tests/edit/edited.h"

START_TEST (sheet_comes_back)
{
  put ("again.sheet", before);
  g_autofree char *path = shelf_path ("again.sheet");
  g_autoptr (SpBench) again = sp_bench_read (path, &error);
  sp_no_error (error);
  g_autofree char *text = sheet_of (again);
  ck_assert_str_eq (again->sha256, bench->sha256);
  ck_assert_str_eq (text, before);
  ck_assert_str_eq (bench->radios[1].name, "Torn [a]#% x  y");
  ck_assert_str_eq (again->radios[1].name, bench->radios[1].name);
  ck_assert_str_eq (again->conditions[1].name, "2 m, high/low");
  ck_assert_str_eq (again->radios[0].owner, "the club");
  ck_assert_str_eq (again->radios[0].serial, "0042");
  ck_assert_str_eq (again->radios[0].note, "3\" cable");
  ck_assert_double_eq (again->radios[0].installed_day, bench->radios[0].installed_day);
  ck_assert_str_eq (again->title, "Night");
  ck_assert_str_eq (again->operator_name, "some # body");
  for (guint i = 0; i < 5; i++) {
    static const char *const kept[] = { "colour=green\n", "shelf=\"4 # left\"\n", "mood=good\n", "\n[lamp]\nwatt=40\n",
                                        "note=3\" cable\n" };
    ck_assert_ptr_nonnull (strstr (text, kept[i]));
  }
  ck_assert_uint_eq (again->sheet_warnings->len, bench->sheet_warnings->len);
}
END_TEST

/* Every order of radios and conditions is kept, also where a radio's own group cannot come first. */
START_TEST (order_comes_back)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  g_autoptr (SpBench) now = edited (sp_bench_add_radio_named (bench, "Lone", &error));
  for (guint i = 0; i < 40; i++) {
    guint from = g_rand_int_range (rand, 0, now->n_conditions), to = g_rand_int_range (rand, 0, now->n_conditions);
    SpBench *moved = sp_bench_move_condition (now, from, to);
    ck_assert_str_eq (moved->conditions[to].name, now->conditions[from].name);
    ck_assert (from == to ? strcmp (moved->sha256, now->sha256) == 0 : strcmp (moved->sha256, now->sha256) != 0);
    sp_bench_unref (now);
    now = moved;
    g_autofree char *text = sheet_of (now), *path = shelf_path ("moved.sheet");
    put ("moved.sheet", text);
    g_autoptr (SpBench) again = edited (sp_bench_read (path, &error));
    ck_assert_str_eq (again->sha256, now->sha256);
    for (guint k = 0; k < now->n_radios; k++)
      ck_assert_str_eq (again->radios[k].name, now->radios[k].name);
  }
}
END_TEST

START_TEST (keys_of_the_bench)
{
  static const char *const rows[][3] = { { "title", "Another # night", "Another # night" },
                                         { "temperature_c", "30", "30" },
                                         { "rule", "guarded", "guarded" },
                                         { "date", "2026-04-05", "2026-04-05" },
                                         { "necessary_bandwidth", "500Hz", "500" },
                                         { "radio_harmonic_vswr", "inf", NULL },
                                         { "operator", "", NULL },
                                         { "mask", "us-amateur", "us-amateur" },
                                         { "temperature_c", NULL, NULL },
                                         { "unkeyed", NULL, NULL },
                                         { "pads_at_hand", "10 2;20  5.0", "10 2; 20 5" } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (SpBench) now = edited (sp_bench_set (bench, rows[i][0], rows[i][1], &error));
    g_autofree char *got = sp_bench_get (now, rows[i][0]);
    ck_assert_pstr_eq (got, rows[i][2]);
    ck_assert_ptr_eq (now->chain, bench->chain);
    ck_assert_ptr_eq (now->conditions[0].sweeps[0].trace, bench->conditions[0].sweeps[0].trace);
    ck_assert_ptr_eq (now->conditions[1].analyzer, bench->conditions[1].analyzer);
  }
  refused (sp_bench_set (bench, "temperature_c", "hot", &error), "[bench] temperature_c: found “hot”");
  refused (sp_bench_set (bench, "rule", "lax", &error), "guarded, simple");
  refused (sp_bench_set (bench, "pads_at_hand", "10", &error), "a rating in W");
  refused (sp_bench_set (bench, "colur", "red", &error), "no key “colur”");
  refused (sp_bench_set (bench, "title", "a\nrule=guarded", &error), "one line");
  refused (sp_bench_set (bench, "title", "\"a\" \" #b", &error), "quotes");
  refused (sp_bench_set (bench, "title", "\xff", &error), "UTF-8");
  refused (sp_bench_set (bench, "chain", "/etc/passwd", &error), "not on this bench");
  refused (sp_bench_set (bench, "mask", "no such", &error), "not on this bench");
  refused (sp_bench_set (bench, "chain", NULL, &error), "expected chain=");
}
END_TEST

/* Pads change what is advised, so the hash; without them it is as it was before there was such a key. */
START_TEST (pads_at_hand)
{
  g_autoptr (SpBench) with = edited (sp_bench_set (bench, "pads_at_hand", "10 2; 20 5", &error));
  g_autoptr (SpBench) without = edited (sp_bench_set (with, "pads_at_hand", NULL, &error));
  g_autofree char *text = sheet_of (with);
  ck_assert_uint_eq (with->pads->len, 2);
  ck_assert_ptr_nonnull (strstr (text, "\npads_at_hand=10 2; 20 5\n"));
  ck_assert_str_ne (with->sha256, bench->sha256);
  ck_assert_ptr_null (without->pads);
  ck_assert_str_eq (without->sha256, bench->sha256);
}
END_TEST

START_TEST (notes_are_pinned_and_taken_off)
{
  static const char words[] = "50 % of it; the neighbour's \"radio\" #2 \xe2\x80\x93 =A1";
  g_autoptr (SpBench) one = edited (sp_bench_pin_note (bench, 1, 292.4e6, -30.5, words, &error));
  g_autoptr (SpBench) two = edited (sp_bench_pin_note (one, 1, 10e6, 0, "second", &error));
  const GArray *pinned = two->conditions[1].pinned;
  ck_assert (!bench->conditions[1].pinned && one->conditions[1].pinned->len == 1 && pinned->len == 2);
  const SpPinnedNote *first = &g_array_index (pinned, SpPinnedNote, 0);
  ck_assert_str_eq (first->text, words);
  ck_assert (first->frequency_hz == 292.4e6 && first->level_dbm == -30.5);
  ck_assert_str_eq (two->sha256, bench->sha256); /* nothing is judged by it */
  g_autoptr (SpBench) left = edited (sp_bench_unpin_note (two, 1, 0, &error));
  ck_assert_uint_eq (left->conditions[1].pinned->len, 1);
  ck_assert_str_eq (g_array_index (left->conditions[1].pinned, SpPinnedNote, 0).text, "second");
  g_autoptr (SpBench) none = edited (sp_bench_unpin_note (left, 1, 0, &error));
  ck_assert_ptr_null (none->conditions[1].pinned);
  g_autofree char *long_words = g_strnfill (SP_PINNED_CHARACTERS + 1, 'a');
  refused (sp_bench_pin_note (bench, 1, 10e6, 0, long_words, &error), "at most 120 characters");
  refused (sp_bench_pin_note (bench, 1, 10e6, 0, " ", &error), "words");
  refused (sp_bench_pin_note (bench, 1, 10e6, 401, "high", &error), "a level in dBm");
  refused (sp_bench_set_condition (bench, 1, "pinned", "292MHz loud words", &error), "found \xe2\x80\x9c"
                                                                                     "292MHz loud words");
  g_autoptr (SpBench) full = edited (sp_bench_set_condition (bench, 1, "pinned", "1MHz 0 a", &error));
  for (guint i = 1; i < SP_PINNED_MAX; i++) {
    SpBench *more = sp_bench_pin_note (full, 1, 1e6, 0, "a", NULL);
    ck_assert_ptr_nonnull (more);
    sp_bench_unref (full);
    full = more;
  }
  refused (sp_bench_pin_note (full, 1, 1e6, 0, "a", &error), "41 notes; expected 40 at most");
}
END_TEST

START_TEST (fields_of_any_name)
{
  g_autoptr (SpBench) one = edited (sp_bench_set_radio (bench, 1, "field.Firmware (of 2)", "2.14 =A1 # 3", &error));
  g_autoptr (SpBench) two = edited (sp_bench_set_condition (one, 1, "field.antenna", "rod", &error));
  const GArray *of_radio = two->radios[1].fields, *own = two->conditions[1].fields;
  ck_assert (!bench->radios[1].fields && of_radio->len == 1 && own->len == 1);
  ck_assert_str_eq (g_array_index (of_radio, SpNamedField, 0).name, "Firmware (of 2)");
  ck_assert_str_eq (g_array_index (of_radio, SpNamedField, 0).value, "2.14 =A1 # 3");
  ck_assert_str_eq (two->sha256, bench->sha256); /* nothing is judged by them */
  g_autoptr (SpBench) none = edited (sp_bench_set_radio (two, 1, "field.Firmware (of 2)", "", &error));
  ck_assert (!none->radios[1].fields && none->conditions[1].fields->len == 1);
  refused (sp_bench_set_radio (bench, 1, "field.", "x", &error), "expected 1 to 24 letters");
  refused (sp_bench_set_radio (bench, 1, "field.a;b", "x", &error), "expected 1 to 24 letters");
  refused (sp_bench_set_radio (bench, 1, "field.a=b", "x", &error), "expected a name without =");
  g_autofree char *words = g_strnfill (SP_FIELD_CHARACTERS + 1, 'a');
  refused (sp_bench_set_condition (bench, 1, "field.a", words, &error), "201 characters; expected 200 at most");
  g_autoptr (SpBench) full = sp_bench_ref (bench);
  for (guint i = 0; i < SP_FIELDS_MAX; i++) {
    g_autofree char *key = g_strdup_printf ("field.%u", i);
    SpBench *more = edited (sp_bench_set_condition (full, 1, key, "x", &error));
    sp_bench_unref (full);
    full = more;
  }
  refused (sp_bench_set_condition (full, 1, "field.more", "x", &error), "more than 20 fields");
}
END_TEST

START_TEST (a_remark_goes_with_its_radio)
{
  g_autoptr (SpDocument) none = sp_document_new (),
                         said = sp_document_set_remark (none, bench->radios[1].name, "Its lid # was \"open\"", &error);
  ck_assert (!said && error);
  g_clear_error (&error);
  said = sp_document_set_remark (none, bench->radios[1].name, "Its lid was open.\\nC:\\\\new", &error);
  sp_no_error (error);
  ck_assert_str_eq (sp_document_remark (said, bench->radios[1].name), "Its lid was open.\nC:\\new");
  g_autoptr (SpBench) with = sp_bench_set_document (bench, said);
  ck_assert_str_eq (with->sha256, bench->sha256);
  g_autoptr (SpBench) renamed = edited (sp_bench_rename_radio (with, 1, "Fen # [noch]", &error));
  ck_assert_str_eq (sp_document_remark (renamed->document, "Fen # [noch]"), "Its lid was open.\nC:\\new");
  ck_assert_ptr_null (sp_document_remark (renamed->document, bench->radios[1].name));
  ck_assert_ptr_nonnull (sp_document_remark (with->document, bench->radios[1].name));
}
END_TEST

START_TEST (keys_of_radio_and_condition)
{
  g_autoptr (SpBench) owned = edited (sp_bench_set_radio (bench, 1, "owner", "somebody", &error));
  g_autofree char *owner = sp_bench_get_radio (owned, 1, "owner"), *none = sp_bench_get_radio (bench, 1, "owner");
  ck_assert_str_eq (owner, "somebody");
  ck_assert_ptr_null (none);
  ck_assert_str_eq (owned->sha256, bench->sha256); /* no verdict hangs on it */
  g_autoptr (SpBench) metered = edited (sp_bench_set_condition (bench, 0, "meter_dbm", "36.9", &error));
  ck_assert_double_eq (metered->conditions[0].meter_dbm, 36.9);
  ck_assert_str_ne (metered->sha256, bench->sha256);
  g_autoptr (SpBench) back = edited (sp_bench_set_condition (metered, 0, "meter_dbm", "", &error));
  ck_assert_str_eq (back->sha256, bench->sha256);
  g_autofree char *keyed = sp_bench_get_condition (bench, 1, "keyed"), *mask = sp_bench_get_condition (bench, 1, "mask");
  g_autoptr (SpBench) clocked = edited (sp_bench_set_condition (bench, 0, "clocks", "26MHz; 19.2MHz", &error));
  g_autofree char *clocks = sp_bench_get_condition (clocked, 0, "clocks");
  ck_assert_pstr_eq (clocks, "26000000;19200000");
  ck_assert_str_ne (clocked->sha256, bench->sha256);
  refused (sp_bench_set_condition (bench, 0, "clocks", "26MHz; -1", &error), "-1");
  g_autoptr (SpBench) same = edited (sp_bench_set_condition (bench, 1, "keyed", keyed, &error));
  g_autoptr (SpBench) masked = edited (sp_bench_set_condition (bench, 2, "mask", mask, &error));
  ck_assert_str_eq (same->sha256, bench->sha256);
  ck_assert_ptr_eq (masked->conditions[2].mask, bench->conditions[1].mask);
  g_autoptr (SpBench) patient = edited (sp_bench_set_radio (bench, 0, "longest_key_down_s", "30", &error));
  g_autofree char *longest = sp_bench_get_radio (patient, 0, "longest_key_down_s");
  ck_assert_pstr_eq (longest, "30");
  ck_assert_str_ne (patient->sha256, bench->sha256);
  refused (sp_bench_set_radio (bench, 0, "installed", "yesterday", &error), "yesterday");
  refused (sp_bench_set_radio (bench, 0, "keyed", "k1.csv", &error), "no key");
  refused (sp_bench_set_condition (bench, 0, "rated_w", "-5", &error), "-5");
  refused (sp_bench_set_condition (bench, 0, "duty", "2", &error), "duty");
  refused (sp_bench_set_condition (bench, 0, "keyed", "/etc/passwd", &error), "not on this bench");
}
END_TEST

START_TEST (parts)
{
  SpChain *other = bench->conditions[1].chain;
  g_autoptr (SpChain) louder = sp_chain_set (other, 0, "points", "1MHz 41", &error);
  sp_no_error (error);
  g_autoptr (SpBench) replaced = sp_bench_replace_chain (bench, other, louder);
  ck_assert_ptr_eq (replaced->chain, bench->chain);
  ck_assert_ptr_eq (replaced->conditions[1].chain, louder);
  guint notched = 0;
  for (guint i = 0; i < replaced->conditions[1].n_sweeps; i++)
    if (replaced->conditions[1].sweeps[i].purpose == SP_PURPOSE_NOTCHED) {
      ck_assert_ptr_eq (replaced->conditions[1].sweeps[i].chain, louder);
      notched++;
    }
  ck_assert_uint_eq (notched, 1);
  g_autoptr (SpBench) three = sp_bench_set_mask (bench, bench->conditions[1].mask);
  g_autoptr (SpBench) four = sp_bench_replace_analyzer (bench, bench->conditions[1].analyzer, bench->analyzer);
  ck_assert_ptr_eq (three->mask, bench->conditions[1].mask);
  ck_assert_ptr_eq (four->conditions[1].analyzer, bench->analyzer);
}
END_TEST

START_TEST (radios_and_conditions)
{
  g_autoptr (SpBench) radio = edited (sp_bench_add_radio_named (bench, "  New one ", &error));
  ck_assert_uint_eq (radio->n_radios, 3);
  ck_assert_uint_eq (radio->n_conditions, 4);
  ck_assert_str_eq (radio->radios[2].name, "New one");
  ck_assert_str_eq (radio->conditions[3].name, "");
  g_autoptr (SpBench) second = edited (sp_bench_duplicate_condition (radio, 0, "20 m", &error)); /* the first has no name */
  ck_assert_str_eq (second->conditions[1].name, "20 m");
  ck_assert_uint_eq (second->conditions[1].radio, 0);
  ck_assert_str_eq (second->conditions[0].name, "");
  g_autofree char *first_name = sp_condition_name (second, &second->conditions[0]);
  ck_assert_str_eq (first_name, "Zelbrid/");
  g_autoptr (SpBench) renamed = edited (sp_bench_rename_radio (second, 1, "Plain", &error));
  ck_assert_str_eq (renamed->radios[1].name, "Plain");
  ck_assert_str_eq (renamed->conditions[2].name, "2 m, high/low");
  g_autoptr (SpBench) named = edited (sp_bench_rename_condition (renamed, 0, "40 m # \"[x]\"", &error));
  ck_assert_str_eq (named->conditions[0].name, "40 m # \"[x]\"");
  g_autoptr (SpBench) twin = edited (sp_bench_duplicate_condition (named, 2, "2 m low", &error));
  ck_assert_str_eq (twin->conditions[3].name, "2 m low");
  ck_assert_uint_eq (twin->conditions[3].n_sweeps, twin->conditions[2].n_sweeps);
  ck_assert_str_eq (twin->conditions[3].unknown, "mood=good\n");
  ck_assert_ptr_eq (twin->conditions[3].sweeps[0].trace, bench->conditions[1].sweeps[0].trace);
  g_autoptr (SpBench) without = edited (sp_bench_remove_condition (twin, 1, &error));
  ck_assert_uint_eq (without->n_radios, 3);
  g_autoptr (SpBench) gone = edited (sp_bench_remove_condition (without, 0, &error));
  ck_assert_uint_eq (gone->n_radios, 2);
  ck_assert_str_eq (gone->radios[0].name, "Plain");
  ck_assert_uint_eq (gone->conditions[0].radio, 0);
  refused (sp_bench_add_radio_named (bench, "Zelbrid", &error), "already");
  refused (sp_bench_add_radio_named (bench, "a/b", &error), "no /");
  refused (sp_bench_add_radio_named (bench, "  ", &error), "has a name");
  refused (sp_bench_rename_radio (bench, 0, bench->radios[1].name, &error), "already");
  refused (sp_bench_duplicate_condition (bench, 2, "70 cm", &error), "already");
  refused (sp_bench_rename_condition (bench, 1, "70 cm", &error), "already");
}
END_TEST

START_TEST (all_gone_and_full)
{
  g_autoptr (SpBench) now = sp_bench_ref (bench);
  while (now->n_conditions > 0) {
    SpBench *less = edited (sp_bench_remove_condition (now, 0, &error));
    sp_bench_unref (now);
    now = less;
  }
  ck_assert_uint_eq (now->n_radios, 0);
  GString *text = g_string_new ("[bench]\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n");
  for (int i = 0; i < 1000; i++)
    g_string_append_printf (text, "[radio R%d]\n", i);
  put ("full.sheet", text->str);
  g_string_free (text, TRUE);
  g_autofree char *path = shelf_path ("full.sheet");
  g_autoptr (SpBench) full = edited (sp_bench_read (path, &error));
  g_autoptr (SpBench) titled = edited (sp_bench_set (full, "title", "full", &error));
  ck_assert_uint_eq (titled->n_conditions, 1000);
  refused (sp_bench_add_radio_named (full, "one more", &error), "1000");
}
END_TEST

START_TEST (sweeps)
{
  SpTrace *room = bench->unkeyed, *k1 = bench->conditions[0].sweeps[0].trace;
  SpTrace *s20 = bench->conditions[1].sweeps[1].trace;
  g_autoptr (SpBench) more = edited (sp_bench_add_sweep (bench, 0, SP_PURPOSE_UNKEYED, room, NAN, &error));
  ck_assert_uint_eq (more->conditions[0].n_sweeps, 3);
  ck_assert_ptr_eq (more->conditions[0].sweeps[2].trace, room);
  g_autoptr (SpBench) stepped = edited (sp_bench_add_sweep (bench, 0, SP_PURPOSE_STEP, s20, 20, &error));
  ck_assert_double_eq (stepped->conditions[0].sweeps[2].step_db, 20);
  refused (sp_bench_add_sweep (bench, 0, SP_PURPOSE_STEP, s20, 10, &error), "states 30 dB");
  refused (sp_bench_add_sweep (bench, 0, SP_PURPOSE_STEP, s20, NAN, &error), "other than 0");
  refused (sp_bench_add_sweep (bench, -1, SP_PURPOSE_KEYED, k1, NAN, &error), "unkeyed");
  g_autoptr (SpBench) bare = edited (sp_bench_remove_sweep (bench, -1, 0, &error));
  ck_assert_ptr_null (bare->unkeyed);
  g_autoptr (SpBench) other = edited (sp_bench_add_sweep (bare, -1, SP_PURPOSE_UNKEYED, room, NAN, &error));
  ck_assert_str_eq (other->sha256, bench->sha256);
  refused (sp_bench_remove_sweep (bare, -1, 0, &error), "no such sweep");
  refused (sp_bench_remove_sweep (bench, 0, 2, &error), "no such sweep");
  g_autoptr (SpBench) less = edited (sp_bench_remove_sweep (bench, 1, 0, &error));
  ck_assert_uint_eq (less->conditions[1].n_sweeps, bench->conditions[1].n_sweeps - 1);
  ck_assert_ptr_eq (less->conditions[1].sweeps[0].trace, s20);
  g_autoptr (SpBench) old = edited (sp_bench_set_purpose (bench, 0, 0, SP_PURPOSE_SUPERSEDED, NAN, &error));
  ck_assert_uint_eq (old->conditions[0].sweeps[0].purpose, SP_PURPOSE_SUPERSEDED);
  g_autoptr (SpBench) keyed = edited (sp_bench_set_purpose (old, 0, 0, SP_PURPOSE_KEYED, NAN, &error));
  ck_assert_str_eq (keyed->sha256, bench->sha256);
  for (guint i = 0; i < bench->conditions[1].n_sweeps; i++) /* its chain stays behind */
    if (bench->conditions[1].sweeps[i].purpose == SP_PURPOSE_NOTCHED) {
      g_autoptr (SpBench) plain = edited (sp_bench_set_purpose (bench, 1, i, SP_PURPOSE_KEYED, NAN, &error));
      for (guint k = 0; k < plain->conditions[1].n_sweeps; k++)
        ck_assert_ptr_null (plain->conditions[1].sweeps[k].chain);
    }
}
END_TEST

START_TEST (sweep_read_anew)
{
  g_autoptr (SpBench) now = edited (sp_bench_reread_sweep (bench, 0, 1, "rbw=1kHz&attenuation=40", &error));
  const SpTrace *trace = now->conditions[0].sweeps[1].trace;
  ck_assert_double_eq (trace->settings.rbw_hz, 1000);
  ck_assert_double_eq (trace->settings.attenuation_db, 40);
  ck_assert_str_eq (sp_trace_sha256 (trace), sp_trace_sha256 (bench->conditions[0].sweeps[1].trace));
  ck_assert_ptr_eq (now->conditions[0].sweeps[0].trace, bench->conditions[0].sweeps[0].trace);
  ck_assert_str_ne (now->sha256, bench->sha256);
  g_autoptr (SpBench) back = edited (sp_bench_reread_sweep (now, 0, 1, NULL, &error));
  ck_assert_str_eq (back->sha256, bench->sha256);
  refused (sp_bench_reread_sweep (bench, 0, 1, "rbw=wide", &error), "rbw=wide");
  refused (sp_bench_reread_sweep (bench, 0, 1, "column=9", &error), "9");
  refused (sp_bench_reread_sweep (bench, 0, 9, "", &error), "no such sweep");
}
END_TEST

/* However a sweep was read, the next edit finds it again. */
START_TEST (options_come_back)
{
  static const char *const options[] = { "unit=dBuV",
                                         "unit=dBmV",
                                         "average=log&averages=7",
                                         "average=none&hold=none",
                                         "hold=max&detector=quasi-peak",
                                         "rbw=9.1kHz&vbw=1e-3",
                                         "reference=-0.1&attenuation=10.3",
                                         "decimal=point&delimiter=comma",
                                         "frequency_unit=kHz",
                                         "bad=skip",
                                         "column=Level%20(dBm)",
                                         "column=2&start=1&stop=2.5MHz",
                                         "center=1GHz&span=0.3MHz" };
  for (guint i = 0; i < G_N_ELEMENTS (options); i++) {
    g_autoptr (SpBench) read = edited (sp_bench_reread_sweep (bench, 0, 1, options[i], &error));
    g_autoptr (SpBench) named = edited (sp_bench_set (read, "title", options[i], &error));
    ck_assert_str_eq (named->sha256, read->sha256);
    ck_assert_ptr_eq (named->conditions[0].sweeps[1].trace, read->conditions[0].sweeps[1].trace);
  }
}
END_TEST

static char *
random_name (GRand *rand)
{
  static const char *const pieces[] = {
    "a", "B", "7",  " ",  "  ",   "#",    " #",       "\"",           "%",    "%41",        "[",  "]", ";", "?", "&",
    "=", "/", "\t", "\n", "\x01", "\x7f", "\xc3\xa9", "\xe2\x82\xac", "\xff", "condition ", "\\", "'"
  };
  GString *name = g_string_new (NULL);
  for (int k = g_rand_int_range (rand, 0, 8); k > 0; k--)
    g_string_append (name, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
  return g_string_free (name, FALSE);
}

/* Any name at all is refused, or is that name, also after its sheet or its chain's file was written and read. */
START_TEST (any_name)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  guint taken = 0;
  for (guint i = 0; i < 400; i++) {
    g_autofree char *name = random_name (rand), *clean = g_strstrip (g_strdup (name));
    g_autoptr (SpBench) radio = sp_bench_rename_radio (bench, 1, name, NULL);
    g_autoptr (SpBench) condition = sp_bench_rename_condition (radio ? radio : bench, 2, name, NULL);
    g_autoptr (SpChain) chain = sp_chain_duplicate_stage (bench->chain, 0, name, NULL);
    ck_assert_msg (!*clean || strchr (clean, '/') || radio, "“%s” is no radio's name", name);
    ck_assert_msg (condition, "“%s” is no condition's name", name);
    if (radio)
      ck_assert_str_eq (radio->radios[1].name, clean);
    ck_assert_str_eq (condition->conditions[2].name, clean);
    if (chain)
      ck_assert_str_eq (chain->stages[1]->name, clean);
    taken += chain != NULL;
    g_autofree char *text = sheet_of (condition), *path = shelf_path ("named.sheet");
    put ("named.sheet", text);
    g_autoptr (SpBench) again = edited (sp_bench_read (path, &error));
    ck_assert_str_eq (again->sha256, condition->sha256);
  }
  ck_assert_uint_gt (taken, 300);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("edit");
  TCase *c = tcase_create ("edit");
  tcase_add_unchecked_fixture (c, NULL, remove_folder);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, sheet_comes_back);
  tcase_add_test (c, order_comes_back);
  tcase_add_test (c, keys_of_the_bench);
  tcase_add_test (c, notes_are_pinned_and_taken_off);
  tcase_add_test (c, fields_of_any_name);
  tcase_add_test (c, a_remark_goes_with_its_radio);
  tcase_add_test (c, pads_at_hand);
  tcase_add_test (c, keys_of_radio_and_condition);
  tcase_add_test (c, parts);
  tcase_add_test (c, radios_and_conditions);
  tcase_add_test (c, all_gone_and_full);
  tcase_add_test (c, sweeps);
  tcase_add_test (c, sweep_read_anew);
  tcase_add_test (c, options_come_back);
  tcase_add_test (c, any_name);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
