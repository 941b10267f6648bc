#!/usr/bin/python3
"""The codes on the tag cards, read back from a picture of the page as a phone would.

    test_pack_codes.py STILLSET

The cards are drawn by poppler at 200 dots per inch and read by zbar: each point of the record has
its code, once, and there is no other. The text holds the SHA-256 of the record, which is the same
in every language and with other units.

Exit status 77 = skipped, since a program is not installed."""

import os
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pack"))

import pack_common as pack
from common import Checks

WAYS = {"": [], " letter": ["--paper", "letter"], " German": ["--locale", "de"], " US units": ["--units", "us"]}


def read_codes(pdf, first, last, folder):
    """All codes on some pages, in order of pages."""
    pack.run("pdftoppm", "-r", "200", "-gray", "-f", str(first), "-l", str(last), pdf,
             os.path.join(folder, "card"))
    found = []
    for picture in sorted(os.listdir(folder)):
        # 4: nothing found on a page
        said = pack.run("zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable",
                        os.path.join(folder, picture), good=(0, 4), text=True)
        found += said.splitlines()
    return found


def check_job(c, program, job):
    plan = pack.Job(program, *job)
    record, digest = plan.read_record()
    # What cannot be approved has no cards.
    refused = any(f["blocks"] and not f["accepted"] and not f["acceptable"] for f in record["findings"])
    points = [] if refused else record["points"]
    expected = sorted("STILLSET-PLAN-1 %s TAG %d" % (digest.upper(), p["tag"]) for p in points)
    for way, words in WAYS.items():
        if way and job not in pack.JOBS[:3]:
            continue
        with tempfile.TemporaryDirectory() as folder:
            path = plan.write("pdf", os.path.join(folder, "pack.pdf"), *words)
            pdf = pack.Pdf(path)
            marks = {t[0]: page for t, page, _ in pdf.bookmarks()}
            pictures = os.path.join(folder, "pictures")
            os.mkdir(pictures)
            found = []
            if "E" in marks:
                found = read_codes(path, marks["E"], marks["F"] - 1, pictures)
        c.equal(sorted(found), expected, "%s%s: codes of all points" % (plan.name, way))


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    pack.need("qpdf", "pdftoppm", "zbarimg")
    program, clock, c = os.path.abspath(sys.argv[1]), pack.Clock(), Checks(quiet=True)
    jobs = [j for j in pack.JOBS if j not in (("cold-store", "E-1"), ("solvent", "P-1"))]
    pack.each(lambda job: check_job(c, program, job), jobs)
    clock.say("codes")
    c.finish()


if __name__ == "__main__":
    main()
