#!/usr/bin/python3
"""Hostile texts in every field of a plant: every form of its plan stays right and safe.

    test_pack_hostile.py STILLSET

The tutorial plant gets each text of hostile.py in all its fields at once, a nasty mixture in each
field in turn, and ids made of such texts. Then: JSON has the text as the reader took it; text has
no character that steers; CSV has no cell that a spreadsheet takes for a formula; SVG is well formed
and holds nothing but shapes and text; HTML is valid, and a browser finds in it no element and no
attribute that the same plan with tame texts does not have; PDF is sound, all words within the
margins. What the reader refuses it refuses with exit status 3 and a message.

Exit status 77 = skipped, since a program is not installed."""

import csv
import io
import json
import os
import re
import sys
import tempfile
import xml.etree.ElementTree as tree

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pack"))

import hostile
import pack_browser as browser
import pack_common as pack
from common import Checks, run_raw

TAME = "plain words"
MIXTURE = "=1+<b title=\"x\">&amp;</b>'\n\u202e%s]]>\\N"
COLUMNS = 16
SHAPES = {"svg", "title", "desc", "style", "path", "text", "g"}
# Counts that hang on how long a text is: lines and halos of the picture, and ids kept together.
BY_LENGTH = ("svg:", "xhtml:span[class]", "xhtml:div[aria-label")
# Whose PDF is searched, object by object, for what acts.
ACTS = {"tame", "all PDF", "all script", "all link", "only name", "ids markup"}
AXE = {"all script": ["light"], "all long": ["narrow"], "ids markup": ["dark"]}


class Case:
    """A plant file with hostile texts, and what is to be seen of it."""

    def __init__(self, name, text, content, target="MV-1", fields=()):
        self.name, self.text, self.content, self.target = name, text, content, target
        self.fields = set(fields)


def cases(source):
    every = list(hostile.FIELDS)
    out = [Case("tame", None, hostile.fill(source, {f: TAME for f in every}))]
    for name, text in hostile.TEXTS.items():
        out.append(Case("all " + name, text, hostile.fill(source, {f: text for f in every}), fields=every))
    for field in every:
        texts = {f: TAME for f in every}
        texts[field] = MIXTURE
        out.append(Case("only " + field, MIXTURE, hostile.fill(source, texts), fields=[field]))
    for name, text in hostile.IDS.items():
        out.append(Case("ids " + name, None, hostile.rename(source, text), target=text + "MV-1"))
    return out


def check_text(c, name, text):
    c.check(not hostile.steers(text), name + ": no character steers", repr(hostile.steers(text)))


def check_json(c, case, record):
    name, text = case.name, case.text and hostile.as_read(case.text)
    if "name" in case.fields:
        c.equal(record["plant"]["name"], text, name + ": JSON, name of the plant")
        c.check(any(text in p["what"] for p in record["points"]), name + ": JSON, name of a device")
    if "place" in case.fields:
        c.equal({p["place"] for p in record["points"]}, {text}, name + ": JSON, places")
    if "isolator" in case.fields:
        c.equal({p["isolator"] for p in record["points"]} - {""}, {text}, name + ": JSON, isolator")
    if "revision" in case.fields:
        c.equal(record["plant"]["revision"], text, name + ": JSON, revision")
    if name.startswith("ids "):
        c.equal(record["target"], [case.target], name + ": JSON, target")
        prefix = case.target[:-len("MV-1")]
        c.check(all(p["id"].startswith(prefix) for p in record["points"]), name + ": JSON, ids")


def check_csv(c, case, data, record):
    name = case.name
    text = data.decode("utf-8")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    c.equal({len(r) for r in rows}, {COLUMNS}, name + ": CSV, columns")
    c.equal(len(rows), 1 + len(record["points"]), name + ": CSV, rows")
    starts = [cell for r in rows for cell in r
              if cell.startswith(tuple("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"))]
    c.check(not starts, name + ": CSV, no formula", repr(starts[:3]))
    check_text(c, name + ": CSV", re.sub(r"[\r\t]", "", text))
    for row, point in zip(rows[1:], record["points"]):
        for column, key in ((2, "id"), (3, "what"), (4, "place")):
            shown = row[column].removeprefix("'")
            c.check(shown == "".join("?" if hostile.steers(ch) else ch for ch in point[key])
                    or shown == point[key].removeprefix("'"),
                    "%s: CSV, %s of tag %d" % (name, key, point["tag"]), repr(row[column])[:200])


def check_svg(c, case, path):
    said = pack.run("xmllint", "--noout", "--nonet", path, good=range(10), text=True)
    c.equal(said, "", case.name + ": SVG, xmllint")
    root = tree.parse(path).getroot()
    names = {hostile.local(e) for e in root.iter()}
    c.check(names <= SHAPES, case.name + ": SVG, elements", repr(names - SHAPES))
    bad = {a for e in root.iter() for a in e.attrib if a.lower().startswith("on") or "href" in a.lower()}
    c.check(not bad, case.name + ": SVG, attributes", repr(bad))
    styles = [e for e in root.iter() if hostile.local(e) == "style"]
    c.check(len(styles) == 1 and "display" not in styles[0].text, case.name + ": SVG, one style sheet")
    check_text(c, case.name + ": SVG", "".join(root.itertext()))


def check_pdf(c, case, path, record):
    said = pack.run("qpdf", "--check", path, good=(0, 2, 3), text=True)
    c.check("No syntax or stream encoding errors found" in said, case.name + ": PDF, qpdf", said[-300:])
    pages = pack.read_words(path)
    mm = pack.POINTS_PER_MM
    out = ["page %d: %r" % (i, w) for i, p in enumerate(pages, 1) for w in p.words
           if w.x0 < 19 * mm or w.x1 > p.width - 11 * mm or w.y0 < 8 * mm or w.y1 > p.height - 11 * mm]
    c.check(not out, case.name + ": PDF, words within the margins", repr(out[:4])[:400])
    text = "".join(p.text() for p in pages)
    # Letters of other scripts have no names in the file that hold for sure.
    for point in record["points"]:
        shown = pack.squeeze(hostile.as_shown(point["what"]))
        if shown.isascii():
            c.check(shown in text, "%s: PDF, tag %d says what it is" % (case.name, point["tag"]), shown[:200])
    if case.name in ACTS:
        names = set(re.findall(r'"(/[A-Za-z]+)"', json.dumps(pack.Pdf(path).objects)))
        c.check(not names & {"/JavaScript", "/JS", "/Launch", "/URI", "/OpenAction", "/AA"},
                case.name + ": PDF, nothing acts", repr(names))


def check_html(c, case, seen, tame, record):
    name, found = case.name + ": HTML", seen["inventory"]
    browser.check_page(c, name, seen)
    extra = set(found["sorts"]) - set(tame["sorts"])
    c.check(not extra, name + ": no element or attribute but those of a tame plan", repr(extra))
    if not case.name.startswith("ids "):
        other = {s: (n, tame["sorts"].get(s, 0)) for s, n in found["sorts"].items()
                 if n != tame["sorts"].get(s, 0) and not s.startswith(BY_LENGTH)}
        c.check(not other, name + ": as many of each", repr(other))
    text = pack.squeeze(found["text"])
    check_text(c, name, found["text"])
    for point in record["points"]:
        for key in ("id", "what", "place"):
            shown = pack.squeeze(hostile.as_shown(point[key]))
            c.check(shown in text, "%s: %s of tag %d as text" % (name, key, point["tag"]), shown[:200])


def check_refused(c, program, folder, source):
    with open(source, encoding="utf-8") as f:
        good = f.read()
    for name, (change, words) in hostile.REFUSED.items():
        path = os.path.join(folder, "refused.xml")
        with open(path, "w", encoding="utf-8", errors="surrogateescape") as f:
            changed = change(good)
            f.write(changed)
        c.check(changed != good, name + ": the file is changed")
        code, out, err = run_raw(program, ["plan", path, "--target", "MV-1", "--format", "html"])
        text = err.decode("utf-8", "replace")
        c.check(code == 3 and out == b"" and words in text and "refused.xml:" in text,
                name + ": refused with exit status 3 and a message", "%d: %s" % (code, text[:300]))
        check_text(c, name + ": message", text)


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    pack.need("qpdf", "pdftotext", "xmllint")
    browser.need()
    program, clock, c = os.path.abspath(sys.argv[1]), pack.Clock(), Checks(quiet=True)
    source = os.path.join(pack.DEMO, "tutorial.xml")
    with tempfile.TemporaryDirectory() as folder:
        check_refused(c, program, folder, source)
        every = cases(source)

        def path(i, end):
            return os.path.join(folder, "%d%s" % (i, end))

        def check_case(i):
            case = every[i]
            with open(path(i, ".xml"), "w", encoding="utf-8") as f:
                f.write(case.content)
            plan = pack.Job(program, path(i, ".xml"), case.target)
            try:
                record, _ = plan.read_record()
                check_json(c, case, record)
                check_text(c, case.name + ": text", plan.make("text").decode("utf-8"))
                check_csv(c, case, plan.make("csv"), record)
                check_svg(c, case, plan.write("svg", path(i, ".svg")))
                check_pdf(c, case, plan.write("pdf", path(i, ".pdf")), record)
                plan.write("html", path(i, ".html"))
            except (RuntimeError, ValueError, csv.Error, tree.ParseError) as problem:
                c.check(False, case.name, str(problem))
                return None
            return record
        records = pack.each(check_case, range(len(every)))
        good = [i for i, r in enumerate(records) if r is not None]
        jobs = [{"file": path(i, ".html"), "axe": AXE.get(every[i].name, []), "inventory": True} for i in good]
        results = dict(zip(good, browser.look(jobs, folder)))
        for i in good:
            check_html(c, every[i], results[i], results[0]["inventory"], records[i])
    clock.say("hostile texts")
    c.finish()


if __name__ == "__main__":
    main()
