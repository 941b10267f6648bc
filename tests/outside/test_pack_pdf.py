#!/usr/bin/python3
"""The pack as PDF: sound, complete, in order, readable, of the size asked for, always the same.

    test_pack_pdf.py STILLSET

Read with qpdf and poppler, which have nothing in common with the program's own libraries (cairo).
What has to be on the pages is taken from the record (--format json).

Exit status 77 = skipped, since a program is not installed."""

import math
import os
import re
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pack"))

import pack_common as pack
from common import Checks

# Capitals of DejaVu Sans: 1493 of 2048 units of the type's size (sCapHeight of the font files).
CAPITAL = 1493 / 2048
PARTS = ["A", "B", "C", "D", "E", "F"]
# Characters of findings that block and of near choices for which one page is enough.
ONE_PAGE = 2000
LEFT_MM, OTHER_MM = 19, 11


def check_sound(c, name, path):
    said = pack.run("qpdf", "--check", path, good=(0, 2, 3), text=True)
    c.check("No syntax or stream encoding errors found" in said, name + ": qpdf --check",
            said.strip()[-300:])
    fonts = pack.run("pdffonts", path, text=True).splitlines()[2:]
    c.check(len(fonts) > 0, name + ": has fonts")
    for line in fonts:
        # name, type, encoding, then emb sub uni
        flags = re.search(r"(yes|no)\s+(yes|no)\s+(yes|no)\s+\d+\s+\d+\s*$", line)
        c.check(bool(flags) and flags[1] == "yes" and flags[2] == "yes" and flags[3] == "yes",
                name + ": font embedded, subset, with its Unicode", line)
        c.check("DejaVu" in line, name + ": font of the family", line)


def check_title(c, name, path, record):
    said = pack.run("pdfinfo", path, text=True)
    title = re.search(r"^Title:\s*(.+)$", said, re.M)
    c.check(title is not None and all(t in title[1] for t in record["target"]),
            name + ": title names the work", said[:200])
    c.check("Date" not in said, name + ": no date", said[:300])


def check_sizes(c, name, pages, pdf, paper):
    marks = pdf.bookmarks()
    diagram = next((p for t, p, _ in marks if t.startswith("B.")), None)
    after = next((p for t, p, _ in marks if t.startswith("C.")), None)
    for i, page in enumerate(pages, 1):
        own = diagram is not None and after is not None and diagram <= i < after
        w, h = (mm * pack.POINTS_PER_MM for mm in pack.PAPERS_MM[paper if own else pack.TEXT_PAPER[paper]])
        # The diagram lies across, or stands where it then takes fewer sheets; all sheets alike.
        ways = [(w, h), (h, w)] if own else [(w, h)]
        good = any(abs(page.width - a) < 0.6 and abs(page.height - b) < 0.6 for a, b in ways)
        c.check(good, "%s: page %d is of the paper asked for" % (name, i),
                "%.1f x %.1f points" % (page.width, page.height))
        if own:
            first = pages[diagram - 1]
            c.equal((page.width, page.height), (first.width, first.height),
                    "%s: page %d lies as the first of the diagram" % (name, i))


def check_bookmarks(c, name, pdf, record, n_pages, pages):
    marks = pdf.bookmarks()
    expected = [p for p in PARTS if p not in "DE" or record["feasible"]]
    c.equal([t[0] for t, _, _ in marks], expected, name + ": bookmarks of all parts")
    starts = [p for _, p, _ in marks]
    c.check(starts == sorted(starts) and all(1 <= p <= n_pages for p in starts),
            name + ": bookmarks in order of pages", repr(marks))
    for title, page, _ in marks:
        c.check(pack.squeeze(title) in pages[page - 1].text(),
                "%s: part %s begins on the page of its bookmark" % (name, title[:2]), "page %d" % page)
    return {t[0]: p for t, p, _ in marks}


def check_numbers(c, name, pages, word):
    """The lower right corner says which page of how many."""
    for i, page in enumerate(pages, 1):
        foot = [w for w in page.words if w.y1 > page.height - 14 * pack.POINTS_PER_MM - 2]
        end = [w.text for w in sorted(foot, key=lambda w: w.x0)[-3:]]
        c.equal(end, [str(i), word, str(len(pages))], "%s: number of page %d" % (name, i))


def check_margins(c, name, pages):
    mm = pack.POINTS_PER_MM
    for i, page in enumerate(pages, 1):
        bad = [w for w in page.words
               if w.x0 < LEFT_MM * mm or w.x1 > page.width - OTHER_MM * mm
               or w.y0 < OTHER_MM * mm or w.y1 > page.height - OTHER_MM * mm]
        c.check(not bad, "%s: margins of page %d" % (name, i), repr(bad[:4]))


def check_heights(c, name, pdf, parts):
    """Capitals are 2 mm high and more, 1.8 mm in the appendix and in head and foot, 1.2 mm on the overview
    of a diagram that is cut into sheets (docs/PACK.md)."""
    appendix = parts.get("F", len(pdf.pages) + 1)
    overview = parts["B"] if parts["C"] - parts["B"] > 1 else 0
    for i, page in enumerate(pdf.pages, 1):
        least = 99.0
        for size, y in pdf.text_sizes(page):
            frame = y < 16 * pack.POINTS_PER_MM
            small = 1.8 if i >= appendix or frame else 1.2 if i == overview else 2.0
            least = min(least, size * CAPITAL / pack.POINTS_PER_MM - small)
        c.check(-0.005 <= least < 50, "%s: height of letters on page %d" % (name, i),
                "%.2f mm too low" % -least)


def in_order(wanted, text):
    """The first that is not found behind the one before it, or None."""
    at = 0
    for what in wanted:
        found = text.find(what, at)
        if found < 0:
            return what
        at = found + len(what)
    return None


def strip_frame(page):
    """Words of a page between head and foot."""
    mm = pack.POINTS_PER_MM
    return [w for w in page.words if w.y0 > 19 * mm and w.y1 < page.height - 17 * mm]


def text_of(pages):
    return pack.squeeze("".join(w.text for p in pages for w in strip_frame(p)))


def columns_of_steps(pages):
    """Text of each column of the list of steps, over all pages: rows that are higher than a page
    are parted, and then each of their cells goes on in its column."""
    out = {"do": "", "expect": "", "if_not": ""}
    for page in pages:
        words = page.words
        texts = [w.text for w in words]
        for i in range(len(words) - 4):
            if texts[i:i + 5] == ["Step", "Do", "Expect", "If", "not"]:
                lefts = [words[i + k].x0 - 1 for k in (1, 2, 3)] + [page.width]
                for k, key in enumerate(out):
                    out[key] += "".join(w.text for w in strip_frame(page)
                                        if lefts[k] <= w.x0 < lefts[k + 1] and w is not words[i + k + 1]
                                        and w is not words[i + 4])
                break
    return {k: pack.squeeze(v) for k, v in out.items()}


def check_decision(c, name, pages, record):
    """One page; more only where what has to stand there in full is long."""
    blocking = [f for f in record["findings"] if f["blocks"]]
    near = [a for a in record["alternatives"] if a["near"]]
    must = (sum(len(f["text"]) for f in blocking)
            + sum(len(a["text"] + " ".join(a["points"])) for a in near))
    most = 1 if must <= ONE_PAGE else 1 + math.ceil(must / ONE_PAGE)
    c.check(len(pages) <= most, name + ": the decision takes one page",
            "it takes %d, %d characters have to be there" % (len(pages), must))
    c.check(in_order(["Approved", "Refused", "Name", "Signature"], text_of(pages[-1:])) is None,
            name + ": room to approve or refuse")
    text = text_of(pages)
    for a in near:
        c.check(pack.squeeze(a["text"]) in text, name + ": near choice on the page for the decision")


def check_content(c, name, pages, parts, record, digest):
    everything = text_of(pages)
    first = parts["C"] - 1
    last = parts.get("D", parts.get("E", parts["F"])) - 1
    work = pages[first:last]
    text = text_of(work)
    tags = ["%d%s" % (p["tag"], pack.squeeze(p["id"])) for p in record["points"]]
    lists = text.find(pack.squeeze("Tag list, in the order of operation"))
    c.check(lists >= 0, name + ": has a tag list")
    missed = in_order(tags, text[lists:])
    c.check(missed is None, name + ": all tags of the list, in order", repr(missed))
    if record["steps"]:
        columns = columns_of_steps(work)
        missed = in_order([pack.squeeze(s["do"]) for s in record["steps"]], columns["do"])
        c.check(missed is None, name + ": all steps, in order", repr(missed))
        for part in ("expect", "if_not"):
            missed = [s["n"] for s in record["steps"] if pack.squeeze(s.get(part, "")) not in columns[part]]
            c.check(not missed, name + ": steps say what to " + part, repr(missed))
    if record["feasible"]:
        back = columns_of_steps(pages[parts["D"] - 1:parts["E"] - 1])
        missed = in_order([pack.squeeze(s["do"]) for s in record["restore"]], back["do"])
        c.check(missed is None, name + ": all steps of the way back, in order", repr(missed))
        cards = text_of(pages[parts["E"] - 1:parts["F"] - 1])
        # What cannot be approved has no cards, and says STOP.
        refused = any(f["blocks"] and not f["accepted"] and not f["acceptable"] for f in record["findings"])
        wanted = [] if refused else [pack.squeeze(p["id"]) for p in record["points"]]
        c.equal("STOP:" in text_of(pages[parts["C"] - 1:parts["D"] - 1]), refused, name + ": STOP")
        missed = in_order(wanted, cards)
        c.check(missed is None, name + ": a card for each point, in order", repr(missed))
    decision = text_of(pages[:parts["B"] - 1])
    check_decision(c, name, pages[:parts["B"] - 1], record)
    for f in record["findings"]:
        where, what = (decision, "on the page for the decision") if f["blocks"] else (everything, "somewhere")
        c.check(pack.squeeze(f["text"]) in where, "%s: finding %s:%s %s" % (name, f["rule"], f["id"], what))
    appendix = text_of(pages[parts["F"] - 1:])
    for a in record["assumptions"]:
        c.check(pack.squeeze(a["text"]) in appendix, "%s: assumption %s:%s" % (name, a["rule"], a["id"]))
    missed = [a["id"] for a in record["assumptions"]
              if pack.squeeze("%s (%s): %s" % (a["id"], a["rule"], a["text"])) not in decision]
    said = re.search(r"And(\d+)more,whichhavenoroomhere", decision)
    c.equal(int(said[1]) if said else 0, len(missed),
            name + ": the page for the decision says how many assumptions are not on it")
    for caution in record["cautions"]:
        c.check(pack.squeeze(caution["text"] if isinstance(caution, dict) else caution) in appendix,
                name + ": caution in the appendix")
    c.check(digest in appendix, name + ": the appendix has the digest of the record")
    for i, page in enumerate(pages, 1):
        c.check(digest[:16] in page.text(), "%s: page %d bears the digest" % (name, i))


def check_job(c, program, job, folder):
    plan = pack.Job(program, *job)
    record, digest = plan.read_record()
    for paper in pack.PAPERS_MM:
        # The larger sizes for the diagram: a few plans are enough.
        if paper in ("a3", "tabloid") and job not in pack.JOBS[:4]:
            continue
        name = "%s, %s" % (plan.name, paper)
        path = plan.write("pdf", os.path.join(folder, name.replace(" ", "-") + ".pdf"), "--paper", paper)
        pages, pdf = pack.read_words(path), pack.Pdf(path)
        check_sound(c, name, path)
        check_title(c, name, path, record)
        check_sizes(c, name, pages, pdf, paper)
        parts = check_bookmarks(c, name, pdf, record, len(pages), pages)
        check_numbers(c, name, pages, "of")
        check_margins(c, name, pages)
        check_heights(c, name, pdf, parts)
        check_content(c, name, pages, parts, record, digest)
        if paper == "a4":
            with open(path, "rb") as f:
                data = f.read()
            c.check(plan.make("pdf") == data, name + ": the same again, a4 if not said")


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    pack.need("qpdf", "pdftotext", "pdffonts", "pdfinfo")
    program, clock, c = os.path.abspath(sys.argv[1]), pack.Clock(), Checks(quiet=True)
    with tempfile.TemporaryDirectory() as folder:
        pack.each(lambda job: check_job(c, program, job, folder), pack.JOBS)
    clock.say("PDF")
    c.finish()


if __name__ == "__main__":
    main()
