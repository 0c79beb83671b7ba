#!/usr/bin/env python3
"""What the tree says of itself: citations that lead somewhere, words that do not come back, no public type twice."""
import functools
import os
import re
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PAGES = ("computation", "metrology", "files")
LISTS = ("reasons", "decisions")  # no code cites their sections
NUMBERS = r"sections? (\d+(?:\.\d+)?(?:(?:, | and |, and )\d+(?:\.\d+)?)*)"
CITES = re.compile(r"core/docs/(\w+)\.md`?(?:, " + NUMBERS + ")?")
# Pages that stand outside the tree, and lists that only their authors see.
UNREACHABLE = re.compile(r"(?<!\w)computation, sections? \d|\bmetrology,? (?:section )?\d|\bdesign(?::|,) ?(?:text files|section)|\bdesign \d|\bfacts/\w|\bissue \d",
                         re.I)
# Parts of names that were given up for the field's own words (DEVELOPERS.md, Words), and whole names.
RETIRED_PARTS = {"witness", "witnesses", "sight", "sights", "making", "makings", "unfit", "hope"}
RETIRED = re.compile(r"Sp(Case|CaseSweep|Look|PlanLook|Law|Behind|BehindStage|Place|Means|Line|Reading|Field|TraceLook|ColumnLook)"
                     r"|sp_(case|behind|signs|law_of_making)_\w+|case_sweep|(\w+_)?own_part(_\w+)?|(worst_)?own_(db|high_dbm|part_dbm|density_dbm_hz)|way_db"
                     r"|Beside|beside_why|behind_chain_db|sp_judging_(place_\w+|warn)"
                     r"|SpPart(Kind|Name|s)|SpStagePart|SP_PART_(CHAIN|ANALYZER|MASK|TRACE|KINDS)|sp_part_\w+|Part"  # resource, loss source, phrase
                     r"|Sp(Rule|RuleRow|RuleLine|RuleFact)|SP_RULE_\w+|sp_rule_\w+"  # mask rule, decision rule, verdict row
                     r"|n_evidence|sp_margins_\w+|limit_db"  # sweeps compared, deciding margins, detection limit (a limit is the mask's)
                     r"|sp_student_k|SpRunShape|(\w+_)?distortion_(high|db\w*|margin_db)\w*|SP_(CAUSE|OBSTACLE)_DISTORTION|\w+_proof(s|_\w+)?")


def files(*tops, ends):
    for top in tops:
        for folder, _, names in os.walk(os.path.join(ROOT, top)):
            for name in sorted(names):
                if name.endswith(ends):
                    yield os.path.relpath(os.path.join(folder, name), ROOT)


@functools.cache
def text(path):
    with open(os.path.join(ROOT, path), encoding="utf-8") as file:
        return file.read()


@functools.cache
def flowing(path):
    """A file's text with comments that run over lines made one line."""
    return re.sub(r"\s*\n\s*(?:\*(?!/)|#|//)?\s*", " ", text(path))


def sections(page):
    return set(re.findall(r"^##+ (\d+(?:\.\d+)?)[. ]", text(f"core/docs/{page}.md"), re.M))


def numbers(found):
    return re.findall(r"\d+(?:\.\d+)?", found or "")


@functools.cache
def code(path):
    """Without comments and strings."""
    return re.sub(r'/\*.*?\*/|"(?:[^"\\\n]|\\.)*"|\'(?:[^\'\\\n]|\\.)*\'', " ", text(path), flags=re.S)


def lost(path, known):
    """Citations in a file that lead nowhere."""
    for found in CITES.finditer(flowing(path)):
        if found.group(1) not in known:
            yield f"{path}: {found.group(0)}: no such page"
        for number in numbers(found.group(2)):
            if number not in known.get(found.group(1), {number}):
                yield f"{path}: {found.group(0)}: no section {number}"


class Words(unittest.TestCase):
    def setUp(self):
        self.known = {page: sections(page) for page in PAGES + LISTS}

    def test_citations_lead_somewhere(self):
        paths = [path for path in files("core", "ui", "app", "tests", "samples", ends=(".c", ".h", ".py", ".md", ".build")) if path != "tests/house/words.py"]
        wrong = [text for path in paths + ["README.md", "DEVELOPERS.md"] for text in lost(path, self.known)]
        self.assertEqual(wrong, [])
        cited = {found.group(1) for path in paths for found in CITES.finditer(flowing(path)) if found.group(2)}
        self.assertEqual(cited, set(PAGES), "a page that no code cites")

    def test_a_citation_that_leads_nowhere_is_found(self):
        for said, bad in (("core/docs/computation.md, section 10", 0), ("core/docs/computation.md, section 99", 1), ("core/docs/nowhere.md", 1),
                          ("core/docs/metrology.md, sections 3 and 4.1", 0), ("core/docs/metrology.md, sections 3 and 4.9", 1)):
            found = [number for cite in CITES.finditer(said) for number in numbers(cite.group(2)) if number not in self.known.get(cite.group(1), set())]
            unknown = [cite for cite in CITES.finditer(said) if cite.group(1) not in self.known]
            self.assertEqual(len(found) + len(unknown), bad, said)
        for said in ("(computation, section 10)", "metrology 4.1", "design: text files", "design, section 8", "design 5", "facts/limits.md", "issue 12.1"):
            self.assertRegex(said, UNREACHABLE)

    def test_pages_point_at_sections_that_are_there(self):
        for page in PAGES:
            own = text(f"core/docs/{page}.md")
            self.assertEqual([str(n + 1) for n in range(len([s for s in self.known[page] if "." not in s]))],
                             sorted((s for s in self.known[page] if "." not in s), key=int), f"{page}: sections are numbered in order")
            for found in re.finditer(r"(?:(\w+)\.md\)?, )?" + NUMBERS, own):
                for number in numbers(found.group(2)):
                    self.assertIn(number, self.known[found.group(1) or page], f"{page}: {found.group(0)}")

    def test_every_code_file_that_a_page_names_is_there(self):
        for page in PAGES:
            for name in re.findall(r"\b(?:core|ui|tests|app)/[\w./-]*\w", text(f"core/docs/{page}.md")):
                self.assertTrue(os.path.exists(os.path.join(ROOT, name)) or os.path.exists(os.path.join(ROOT, name + ".c")), f"{page}: {name}")

    def test_no_page_outside_the_tree_is_cited(self):
        wrong = [f"{path}: {found.group(0)}" for path in files("core", "ui", "app", "tests", "samples", ends=(".c", ".h", ".py", ".md", ".build"))
                 if path != "tests/house/words.py" for found in UNREACHABLE.finditer(flowing(path))]
        self.assertEqual(wrong, [])

    def test_retired_words_stay_away(self):
        wrong = []
        for path in files("core", "ui", "app", "tests", ends=(".c", ".h", ".py")):
            named = re.findall(r"[A-Za-z]+", os.path.splitext(path)[0])
            known = re.findall(r"[A-Za-z_]\w+", code(path)) if not path.endswith(".py") else []
            for name in set(named + known):
                parts = set(re.sub(r"([a-z0-9])([A-Z])", r"\1_\2", name).lower().split("_"))
                if parts & RETIRED_PARTS or RETIRED.fullmatch(name):
                    wrong.append(f"{path}: {name}")
        self.assertEqual(sorted(wrong), [], "a word that was given up: DEVELOPERS.md, Words, has the one to use")

    def test_the_newcomers_page_stays_two_screens(self):
        lines = text("DEVELOPERS.md").split("\n")
        self.assertLessEqual(len(lines), 130)
        self.assertEqual([line for line in lines if len(line) > 150], [], "too long; what is beside the point has its place in core/docs")

    def test_no_public_type_twice(self):
        places = {}
        for path in files("core", "ui", ends=(".h",)):
            for name in re.findall(r"^(?:\} |typedef (?:struct|enum|union)? ?\w* ?)(Sp\w+);", code(path), re.M):
                places.setdefault(name, set()).add(path)
        self.assertGreater(len(places), 100)
        self.assertEqual({name: sorted(where) for name, where in places.items() if len(where) > 1}, {}, "one public name, two types")


if __name__ == "__main__":
    counted.main()
