#!/usr/bin/env python3
"""What is handed over, from outside: slips and reports as PDF and as a page, read back by pdftotext and by an HTML parser."""
import html.parser
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import batch_case  # noqa: E402
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
SAMPLES = os.path.join(ROOT, "samples")
NAMES = ["Abbermoor", "Brisketh", "Corvandel", "Dremmick", "Elverspur", "Fathomley", "Grindlow", "Hasperwick", "Ilvermoss", "Jorrandel", "Kestwick",
         "Lommerby"]
OWNERS = ["Ada Winterlode", "Bo Quillmark", "Cy Fensworth", "Di Harrowgate", "Ed Pellinore", "Flo Gantry", "Gus Timberlake", "Hal Overstrand",
          "Ivy Nettleship", "Jo Barrowclough", "Kit Sandringhast", "Lu Merriweath"]
EXPORTS = ["tulvannick.csv", "brundlow.dat", "larquedon.txt"]
CARRIERS = [146.46, 147.03, 145.56]


def plain(text):
    """One line, with plain minus signs and blanks, for comparing what JSON and paper say."""
    return re.sub(r"\s+", " ", text.replace("\u2212", "-").replace("\u202f", " ").replace("\u00a0", " ").replace("\u00b5", "u")).strip()


def pdf_text(path, *options):
    run = subprocess.run(["pdftotext", *options, path, "-"], capture_output=True, text=True, check=True)
    return run.stdout


def pdf_info(path):
    run = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True)
    return dict(line.split(":", 1) for line in run.stdout.splitlines() if ":" in line)


def alternatives(path):
    """What each figure shows, for who cannot see it; and every object of the update stands where its table says (ISO 32000-1, 7.5.4)."""
    with open(path, "rb") as file:
        data = file.read()
    table = data[int(data.rsplit(b"startxref\n", 1)[1].split(b"\n")[0]):]
    entries = re.findall(rb"(\d+) 1\n(\d{10}) 00000 n \n", table)
    for number, at in entries:
        assert data[int(at):].startswith(number + b" 0 obj\n"), (path, number)
    assert b"/Lang (en)" in data and entries
    return [bytes.fromhex(found.decode()).decode("utf-16-be") for found in re.findall(rb"/Alt <FEFF([0-9A-F]*)>", data)]


class Page(html.parser.HTMLParser):
    """Tags that are open and close in turn, names, references, text."""
    VOID = {"meta", "hr", "br", "img"}

    def __init__(self, text):
        super().__init__()
        self.open, self.ids, self.wants, self.tags, self.text, self.wrong = [], [], [], [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        for name, value in attrs:
            if name == "id":
                self.ids.append(value)
            if name in ("href", "xlink:href", "src"):
                self.wants.append(value)
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append((tag, self.getpos()))

    def handle_data(self, data):
        if "style" not in self.open and "svg" not in self.open:
            self.text.append(data)


class Paper(batch_case.Bench):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.mkdtemp(prefix="spurproof-paper-")
        sheet = f"[bench]\ntitle=Twelve of a club\ndate=2026-11-28\nplace=Pendrowick\nnote=the bench's own note\nchain={SAMPLES}/club.chain\n" \
                f"analyzer={SAMPLES}/club.analyzer\nmask=us-amateur\ntemperature_c=21\nnecessary_bandwidth=16kHz\n"
        for i, (name, owner) in enumerate(zip(NAMES, OWNERS)):
            sheet += f"[radio {name}]\nowner={owner}\nserial=SN{i + 41}Z\nnote=word {i} of its own\nfundamental={CARRIERS[i % 3]}MHz\nrated_w=5\nmode=FM\n" \
                     f"keyed={SAMPLES}/raw/{EXPORTS[i % 3]}\n"
        cls.sheet = os.path.join(cls.folder, "twelve.sheet")
        with open(cls.sheet, "w", encoding="utf-8") as file:
            file.write(sheet)

    def slips(self, *options, **more):
        folder = tempfile.mkdtemp(prefix="slips-", dir=self.folder)
        self.good("report", self.sheet, "--slips", folder, *options, **more)
        return folder

    def test_each_owner_gets_a_page_of_his_own(self):
        folder, judged = self.slips(), {radio["radio"]: radio for radio in self.load("judge", self.sheet)["radios"]}
        self.assertEqual(sorted(os.listdir(folder)), sorted(f"{name}-SN{i + 41}Z.pdf" for i, name in enumerate(NAMES)))
        for i, name in enumerate(NAMES):
            path = os.path.join(folder, f"{name}-SN{i + 41}Z.pdf")
            info, text = pdf_info(path), plain(pdf_text(path))
            self.assertEqual((info["Pages"].strip(), info["Tagged"].strip()), ("1", "yes"))
            self.assertEqual(info["Title"].strip(), f"{name}, serial SN{i + 41}Z")
            verdict, tail = judged[name]["statement"].split(": ", 1)
            for said in (name, OWNERS[i], f"SN{i + 41}Z", tail, verdict, "47 CFR 97.307(d), (e)", "2026-11-28", "c29d02", "42 days", "power rated", "dBm",
                         "no certificate", "licensed person"):
                self.assertIn(said, text, path)
            self.assertRegex(text, r"\b5 ?W\b")  # rated; pdftotext may drop a thin space
            # all that a reader can see, and all that stands in the file's own words
            with open(path, "rb") as file:
                everything = text + file.read().decode("latin-1") + json.dumps(info)
            spoken = alternatives(path)
            self.assertEqual(len(spoken), 1)
            self.assertIn(f"Spectrum of {name}", spoken[0])
            everything += spoken[0]
            for k, (other, owner) in enumerate(zip(NAMES, OWNERS)):
                for word in (other, owner, f"SN{k + 41}Z") if k != i else ("the bench's own note", "word "):
                    self.assertNotIn(word, everything, f"{path} speaks of another")

    def test_the_report_has_every_verdict_and_says_whose(self):
        path = os.path.join(self.folder, "club.pdf")
        self.good("report", self.sheet, "-o", path)
        text, radios = plain(pdf_text(path)), self.load("judge", self.sheet)["radios"]
        self.assertEqual(len(radios), 12)
        for radio in radios:
            self.assertIn(radio["statement"].split(": ", 1)[1], text)
            self.assertIn(radio["radio"], text)
            for emission in radio["emissions"]:
                if emission["detected"]:
                    self.assertIn(f"{emission['level_dbm']:.1f}", text)
        for said in ("JCGM 106", "ILAC-G8", "Where the uncertainty comes from", "Where the power goes", "SHA-256", "page 1 of "):
            self.assertIn(said, text)
        n = int(pdf_info(path)["Pages"])
        for i in range(1, n + 1):
            self.assertIn(f"page {i} of {n}", plain(pdf_text(path, "-f", str(i), "-l", str(i))))
        self.assertIn(b"/Outlines", open(path, "rb").read())
        spoken = alternatives(path)
        self.assertEqual([name for name in NAMES if not any(name in one for one in spoken)], [])
        self.assertEqual([one for one in spoken if not one], [])

    def test_pictures(self):
        """Of the bench and of two radios: on the report with their captions, a radio's own on its slip and on no other, coded as they were kept."""
        place = lambda name: os.path.join(self.folder, name)
        for name, colour in (("shed.jpg", "green"), ("label.jpg", "navy"), ("dent.jpg", "maroon"), ("head.png", "teal")):
            subprocess.run(["convert", "-size", "640x480" if name != "head.png" else "600x90", f"gradient:{colour}-white", place(name)], check=True)
        with open(place("label.jpg"), "r+b") as file:
            whole = file.read()
            file.seek(0)
            file.write(whole[:2] + b"\xff\xfe\x00\x11N 47 12 33 E 8." + whole[2:])  # a comment, which holds a place
        keys = {"[bench]\n": "[bench]\nletterhead=head.png\npicture=shed.jpg The long bench in Zumberhall\n",
                "[radio Abbermoor]\n": "[radio Abbermoor]\npicture=label.jpg The label beneath the knob\n",
                "[radio Brisketh]\n": "[radio Brisketh]\npicture=dent.jpg A dented corner\npicture.2=label.jpg\n"}
        with open(self.sheet, encoding="utf-8") as file:
            text = file.read()
        for heading, more in keys.items():
            text = text.replace(heading, more)
        with open(place("pictures.sheet"), "w", encoding="utf-8") as file:
            file.write(text)
        reports, captions = {}, ("The long bench in Zumberhall", "The label beneath the knob", "A dented corner", "A picture of Brisketh")
        for name, options, held, pictures in (("club.pdf", (), captions, ["image", "jpeg", "jpeg", "jpeg", "jpeg"]),
                                              ("club.html", (), captions, 5),
                                              ("one.pdf", ("--slip", "--radio", "Abbermoor"), captions[1:2], ["image", "jpeg"]),
                                              ("one.html", ("--slip", "--radio", "Abbermoor"), captions[1:2], 2),
                                              ("none.pdf", ("--slip", "--radio", "Corvandel"), (), ["image"])):
            self.good("report", place("pictures.sheet"), *options, "-o", place(name))
            with open(place(name), "rb") as file:
                reports[name] = file.read()
            self.assertNotIn(b"N 47 12 33", reports[name])
            if name.endswith(".pdf"):
                listed = subprocess.run(["pdfimages", "-list", place(name)], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
                self.assertEqual(sorted(line.split()[8] for line in listed if line.split()[2] == "image"), pictures, name)
                said = plain(pdf_text(place(name))) + " ".join(alternatives(place(name)))
            else:
                said = reports[name].decode()
                self.assertEqual(said.count("src=\"data:image/"), pictures)
                self.assertEqual(Page(said).wrong, [])
            self.assertEqual([caption for caption in captions if caption in said], list(held), name)
        self.assertLess(len(reports["one.pdf"]), 200_000)
        self.assertEqual((pdf_info(place("none.pdf"))["Pages"].strip(), pdf_info(place("one.pdf"))["Pages"].strip()), ("1", "2"))
        judged = self.load("judge", place("pictures.sheet"))
        self.assertEqual([(one["radio"] or one["stage"], one["name"], one["caption"]) for one in judged["pictures"]],
                         [(None, "shed.jpg", captions[0]), ("Abbermoor", "label.jpg", captions[1]), ("Brisketh", "dent.jpg", captions[2]),
                          ("Brisketh", "label.jpg", None)])
        self.assertEqual(judged["pictures"][1]["sha256"], judged["pictures"][3]["sha256"])
        self.assertNotIn(judged["letterhead_sha256"], (None, judged["pictures"][2]["sha256"]))
        with open(place("words.report"), "w", encoding="utf-8") as file:
            file.write("[report]\nletterhead=dent.jpg\n")
        with open(place("worded.sheet"), "w", encoding="utf-8") as file:
            file.write(text.replace("[bench]\n", "[bench]\ndocument=words.report\n"))
        headed = self.load("judge", place("worded.sheet"))
        self.assertEqual(headed["letterhead_sha256"], judged["pictures"][2]["sha256"])
        self.good("report", place("pictures.sheet"), "--document", place("words.report"), "--slip", "--radio", "Corvandel", "-o", place("none.pdf"))
        listed = subprocess.run(["pdfimages", "-list", place("none.pdf")], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
        self.assertEqual([line.split()[8] for line in listed], ["jpeg"])

    def test_one_radio_alone(self):
        path = os.path.join(self.folder, "one.pdf")
        self.good("report", self.sheet, "--radio", "Corvandel", "-o", path)
        text = plain(pdf_text(path))
        for said in ("Corvandel", OWNERS[2], "1 condition"):
            self.assertIn(said, text)
        for other in NAMES[:2] + NAMES[3:]:
            self.assertNotIn(other, text)
        # an evening on which one radio's steps tell of another's emissions
        evening = os.path.join(SAMPLES, "pocket.sheet")
        names = [radio["radio"] for radio in self.load("judge", evening)["radios"]]
        for name in ("Orbanick", "Quelldrin"):
            for options in ((), ("--slip",)):
                self.good("report", evening, "--radio", name, "-o", path, *options)
                text = plain(pdf_text(path)) + " ".join(alternatives(path))
                self.assertIn(name, text)
                self.assertEqual([other for other in names if other != name and other in text], [])

    def test_a_report_holds_what_a_laboratorys_would(self):
        """ISO/IEC 17025, 7.8.2 to 7.8.6, from memory: what a report must hold, and by which words it stands here. Not held: a customer's contact and
        a signature (7.8.2.1 e, o: the club hands it out itself), sampling (7.8.5: nothing was sampled)."""
        path = os.path.join(self.folder, "sample.pdf")
        self.good("report", os.path.join(SAMPLES, "club.sheet"), "-o", path)
        text = plain(pdf_text(path))
        held = {"7.8.2.1 a, title": "Emissions of transmitters at their antenna sockets", "c, place": "Pendrowick club room",
                "d, identification on each page": "bench f0dfeed3", "d, end": f"page {pdf_info(path)['Pages'].strip()} of {pdf_info(path)['Pages'].strip()}",
                "f, method": "corrected by the chain's loss at its own frequency", "g, item": "serial K2", "i, date of the work": "2026-11-28",
                "l, holds for these items alone": "holds for the radios named", "m, results with units": "seen, dBm", "n, deviations": "To note.",
                "o, who is responsible": "the course's own", "7.8.3.1 a, conditions": "21 °C", "b, conformity": "exceeds", "c, uncertainty": "U = 0.93 dB",
                "7.8.4.1 c, traceability": "measured 2026-10-17 (42 days before; good for 365)", "7.8.6.1, decision rule": "Guarded (JCGM 106",
                "7.8.6.2 b, specification": "47 CFR 97.307(d), (e)", "7.8.6.2 c, rule applied": "Complies if level + U lies under the limit"}
        for item, words in held.items():
            self.assertIn(words, text, item)

    def test_a_page_says_what_the_pdf_says(self):
        paths = [os.path.join(self.folder, name) for name in ("slip.pdf", "slip.html", "all.html")]
        for path in paths[:2]:
            self.good("report", self.sheet, "--slip", "--radio", "Abbermoor", "-o", path)
        self.good("report", self.sheet, "-o", paths[2])
        for path in paths[1:]:
            with open(path, encoding="utf-8") as file:
                text = file.read()
            page = Page(text)
            self.assertEqual((page.wrong, page.open), ([], []))
            self.assertEqual(len(page.ids), len(set(page.ids)))
            self.assertEqual([want for want in page.wants if not want.startswith("#") and not want.startswith("data:")], [], "fetches something")
            self.assertEqual([want for want in page.wants if want.startswith("#") and want[1:] not in page.ids], [])
            self.assertEqual(set(page.ids) & set(re.findall(r"url\(#([^)]*)\)", text)), set(re.findall(r"url\(#([^)]*)\)", text)))
            self.assertNotIn("script", page.tags)
            for tag in ("title", "h1", "caption", "figcaption", "desc", "main"):
                self.assertIn(tag, page.tags)
            self.assertIn('<html lang="en">', text)
            if shutil.which("tidy"):  # app/install-packages test
                valid = subprocess.run(["tidy", "-q", "-e", path], capture_output=True, text=True, check=False)
                self.assertEqual((valid.returncode, valid.stderr), (0, ""), "no valid HTML")
        with open(paths[1], encoding="utf-8") as file:
            said = plain("".join(Page(file.read()).text))
        statement = self.load("judge", self.sheet)["radios"][0]["statement"].split(": ", 1)[1]
        for text in (said, plain(pdf_text(paths[0]))):
            self.assertIn(statement, text)
        # in the order that it is read: name, sentence, table, how sure, title block
        places = [said.index(word) for word in ("Abbermoor", statement, "2nd harmonic", "How sure", "Cautions.", "bench's SHA-256")]
        self.assertEqual(places, sorted(places))
        self.assertNotIn("Brisketh", said)

    def test_the_same_bytes_and_the_date_that_is_asked_for(self):
        made = []
        for i, epoch in enumerate(("1700000000", "1700000000", "1600000000")):
            path = os.path.join(self.folder, f"epoch{i}.pdf")
            self.good("report", self.sheet, "--slip", "--radio", "Abbermoor", "-o", path, SOURCE_DATE_EPOCH=epoch)
            with open(path, "rb") as file:
                made.append(file.read())
        self.assertEqual(made[0], made[1])
        self.assertNotEqual(made[0], made[2])
        self.assertIn(b"20231114221320", made[0])  # calculated: 1700000000 s after 1970-01-01T00:00:00Z
        self.assertEqual(pdf_info(os.path.join(self.folder, "epoch0.pdf"))["Page size"].strip(), "595.28 x 841.89 pts (A4)")

    def test_sheets_of_paper(self):
        for word, size in (("letter", "612 x 792 pts (letter)"), ("a5", "419.53 x 595.28 pts")):
            path = os.path.join(self.folder, f"{word}.pdf")
            self.good("report", self.sheet, "--slip", "--radio", "Abbermoor", "-o", path, "--paper", word)
            self.assertEqual((pdf_info(path)["Page size"].strip(), pdf_info(path)["Pages"].strip()), (size, "1"))

    def test_strange_names_stay_in_the_folder(self):
        names = {"..\\..\\escape": "x", "..": "/etc/x", "CON": "*?", ".hidden": "", "Zwölf Ω": "", "<b>&amp;": "=1+1", "zwin": "", "Zwin": ""}
        sheet = os.path.join(self.folder, "strange.sheet")
        with open(self.sheet, encoding="utf-8") as file:
            head = file.read().split("[radio ")[0]
        with open(sheet, "w", encoding="utf-8") as file:
            file.write(head)
            for name, serial in names.items():
                file.write(f"[radio {name}]\nserial={serial}\nfundamental=147.03MHz\nkeyed={SAMPLES}/raw/brundlow.dat\n")
        folder = tempfile.mkdtemp(prefix="strange-", dir=self.folder)
        self.good("report", sheet, "--slips", folder)
        written = os.listdir(folder)
        self.assertEqual(len(written), len(names))
        self.assertIn("Zwölf_Ω.pdf", written)
        self.assertIn("Zwin-2.pdf", written)  # no two differ by the case of letters alone
        for name in written:
            self.assertRegex(name, r"^[^./\\<>:\"|?*][^/\\<>:\"|?*\x00-\x1f]*\.pdf$")
        page = os.path.join(self.folder, "strange.html")
        self.good("report", sheet, "-o", page)
        with open(page, encoding="utf-8") as file:
            read = Page(file.read())
        self.assertEqual(read.wrong, [])
        self.assertIn("<b>&amp;", "".join(read.text))

    def test_what_cannot_be_is_refused(self):
        for words, said in ((("-o", "x.pdf", "--paper", "a3"), "a4, letter or a5"), (("-o", "x.pdf", "--slip"), "--radio NAME"),
                            (("-o", "x.xlsx", "--slip", "--radio", "Abbermoor"), "--slip"), (("--slips", "d", "-o", "x.pdf"), "--slips"),
                            (("-o", "x.doc"), ".pdf"), ((), "--slips DIR"), (("-o", "x.pdf", "--slip", "--radio", "Nobody"), "Nobody")):
            self.assertIn(said, self.refused("report", self.sheet, *words))
        self.assertFalse(os.path.exists(os.path.join(self.folder, "x.pdf")))

    def test_what_stood_there_stays_where_it_cannot_be_written(self):
        folder = self.slips()
        path = os.path.join(folder, f"{NAMES[0]}-SN41Z.pdf")
        os.remove(path)
        os.mkdir(path)  # nothing may take a folder's place
        before = {name: os.stat(os.path.join(folder, name)).st_mtime_ns for name in os.listdir(folder)}
        self.assertIn(f"{NAMES[0]}-SN41Z.pdf", self.refused("report", self.sheet, "--slips", folder))
        self.assertEqual(before, {name: os.stat(os.path.join(folder, name)).st_mtime_ns for name in os.listdir(folder)})
        self.assertIn("twelve.sheet", self.refused("report", self.sheet, "-o", self.sheet, "--format", "pdf"))

    def test_words_of_a_clubs_own(self):
        """Title, words, parts, remarks and fields; kept in the book; on a slip no other radio's; refused with the place."""
        document = "# by hand\n[report]\ntitle=An evening at Pendrowick\nintroduction=All who came were swept.\\nSecond paragraph.\n" \
                   "conclusions=Three go home with a stub.\nparts=files; front; conditions\npaper=letter\nlanguage=en\n" \
                   "[remark Abbermoor]\ntext=Its lid was open.\n[remark Corvandel]\ntext=Ask for the other lead.\n"
        with open(os.path.join(self.folder, "own.report"), "w", encoding="utf-8") as file:
            file.write(document)
        with open(self.sheet, encoding="utf-8") as file:
            text = file.read().replace("mask=", "document=own.report\nmask=").replace("[radio Abbermoor]\n", "[radio Abbermoor]\nfield.firmware=2.14b\n")
        sheet, book, out = (os.path.join(self.folder, name) for name in ("own.sheet", "own.benchbook", "own-unpacked"))
        with open(sheet, "w", encoding="utf-8") as file:
            file.write(text)
        judged = self.load("judge", sheet)
        self.assertEqual(judged["radios"][0]["fields"], [{"of": "radio", "name": "firmware", "value": "2.14b"}])
        self.assertEqual(judged["bench_sha256"], self.load("judge", self.sheet)["bench_sha256"])  # nothing is judged by any of it
        self.good("pack", sheet, "-o", book)
        self.good("unpack", book, "-d", out)
        kept = [name for name in os.listdir(os.path.join(out, "raw")) if name.endswith("own.report")]
        with open(os.path.join(out, "raw", kept[0]), encoding="utf-8") as file:
            self.assertEqual(file.read(), document)
        path = os.path.join(self.folder, "own.pdf")
        for source in (book, os.path.join(out, "bench.sheet")):
            self.good("report", source, "-o", path)
            said = plain(pdf_text(path))
            self.assertEqual(pdf_info(path)["Page size"].strip(), "612 x 792 pts (letter)")
            places = [said.find(words) for words in ("An evening at Pendrowick", "All who came were swept.", "Second paragraph.", "Three go home", "Its lid was open.")]
            self.assertEqual(places, sorted(places))
            self.assertGreaterEqual(places[0], 0)
            self.assertIn("firmware", said)
            self.assertIn("licensed person", said)  # cautions are no part that can be left out
            self.assertLess(said.find("SHA-256"), said.find("Its lid was open."))  # the files before the conditions
            for left_out in ("Whose is it?", "Where the uncertainty comes from", "Where the power goes", "How it was measured", "side by side"):
                self.assertNotIn(left_out, said)
        folder = tempfile.mkdtemp(prefix="own-", dir=self.folder)
        self.good("report", book, "--slips", folder)
        for name, own in (("Abbermoor-SN41Z", ("Its lid was open.", "2.14b")), ("Corvandel-SN43Z", ("Ask for the other lead.",))):
            said = plain(pdf_text(os.path.join(folder, f"{name}.pdf")))
            for words in ("Its lid was open.", "2.14b", "Ask for the other lead.", "Three go home", "All who came"):
                (self.assertIn if words in own else self.assertNotIn)(words, said, name)
        wrong = os.path.join(self.folder, "wrong.report")
        for line, place, told in (("language=tlh", "2:10", "there are sentences in: en"), ("parts=front; verse", "2:14", "overlays"), ("paper=a3", "2:7", "letter"),
                                  ("parts=front; front", "2:14", "a second time"), ("[remark]", "2:1", "[remark RADIO]")):
            with open(wrong, "w", encoding="utf-8") as file:
                file.write(f"[report]\n{line}\n")
            message = self.refused("report", sheet, "-o", path, "--document", wrong)
            self.assertIn(f"wrong.report:{place}: ", message)
            self.assertIn(told, message)

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)


if __name__ == "__main__":
    counted.main()
