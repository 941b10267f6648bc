#!/usr/bin/python3
"""The pack as HTML: valid, accessible, alone, and whole when it is printed.

    test_pack_html.py STILLSET

html-validate reads it as it stands, Chromium as people would: wide and light, wide and dark, and
as narrow as a phone, each time with axe-core (WCAG 2.0 to 2.2, A and AA, and best practice). Then
Chromium prints it, and no row, card or item may lie on two pages. Colours of the style sheet are
set against each other by the formula of WCAG 2.

A page that is wrong in all these ways has to be found so first: a check that finds nothing proves
nothing. Exit status 77 = skipped, since a program is not installed."""

import os
import re
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pack"))

import pack_browser as browser
import pack_common as pack
from common import Checks

# (name, job, further options, settings)
PACKS = [("tutorial MV-1", ("tutorial", "MV-1"), [], browser.SETTINGS),
         ("tutorial CV-1", ("tutorial", "CV-1"), [], browser.SETTINGS),
         ("tutorial MV-1, German", ("tutorial", "MV-1"), ["--locale", "de"], ["light"]),
         ("cold-store MV-1", ("cold-store", "MV-1"), [], browser.SETTINGS),
         ("cold-store E-1, US units", ("cold-store", "E-1"), ["--units", "us"], ["narrow"]),
         ("co2-booster EV-1", ("co2-booster", "EV-1"), [], ["dark"]),
         ("solvent F-1", ("solvent", "F-1"), [], ["narrow"])]

BAD = """<!DOCTYPE html><html><head><title></title></head><body><main>
<img src="http://127.0.0.1:9/x.png"><p style="color:#aaa;background:#fff">hardly to be read</p>
<a href="https://example.org/">away</a><div role="nothing" style="width:1500px">wide</div>
<script>alert(1)</script><p id="a" onclick="x()"></p><p id="a"></p>
<table><tbody>%s</tbody></table></main></body></html>"""


def check_itself(c, seen, pdf):
    """Every check has to speak up on the bad page."""
    found = Checks(quiet=True)
    found.check = lambda ok, name, why="": found.__dict__.setdefault("bad", []).append(name) if not ok else None
    browser.check_page(found, "bad", seen)
    browser.check_print(found, "bad", seen, pdf)
    for what in ("html-validate", "axe-core, light", "fits its window, light", "asks the network for nothing",
                 "runs nothing", "points at nothing but its parts", "nothing in it that could act",
                 "no row is cut in print"):
        c.check("bad: " + what in found.bad, "a page that is wrong is found so: " + what, repr(found.bad))
    rules = [v["id"] for v in seen["axe"]["light"]]
    c.check("color-contrast" in rules and "image-alt" in rules, "axe-core sees contrast and pictures", repr(rules))


# ---- colours ----

def luminance(colour):
    """Relative luminance, WCAG 2."""
    digits = colour[1:] if len(colour) == 7 else "".join(d * 2 for d in colour[1:])
    channels = [int(digits[i:i + 2], 16) / 255 for i in (0, 2, 4)]
    r, g, b = [x / 12.92 if x <= 0.04045 else ((x + 0.055) / 1.055) ** 2.4 for x in channels]
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(a, b):
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def colours(css):
    """Variables of the style sheet, in light and in dark."""
    blocks = re.findall(r":root\{([^}]*)\}", css)
    read = [dict(re.findall(r"--(\w+):(#[0-9a-f]{3,6})", b)) for b in blocks]
    light, dark = read[0], {**read[0], **read[1]}
    return {"light": light, "dark": dark, "print": {**light, **read[2]}}


def check_colours(c, text):
    css = re.search(r"<style>(.*?)</style>", text, re.S)[1]
    c.equal(round(contrast("#000", "#fff"), 2), 21.0, "formula of contrast: black on white")
    # WCAG's own limit of grey on white.
    c.check(contrast("#767676", "#fff") >= 4.5 > contrast("#777777", "#fff"), "formula of contrast: grey")
    used = set(re.findall(r"var\(--(\w+)\)", css))
    c.equal(used, {"ink", "soft", "paper", "shade", "line", "flag"}, "all variables are known here")
    plain = set(re.findall(r"[:(\s](#[0-9a-f]{3,6})\b", re.sub(r":root\{[^}]*\}", "", css)))
    c.equal(plain, {"#fff", "#111", "#444"}, "all other colours are known here")
    for way, v in colours(css).items():
        pairs = [(v[a], v[b], a + " on " + b) for a in ("ink", "soft") for b in ("paper", "shade")]
        pairs += [("#111", v["flag"], "number on a flag"), ("#111", "#fff", "card"), ("#444", "#fff", "small on a card")]
        for text_colour, ground, what in pairs:
            ratio = contrast(text_colour, ground)
            c.check(ratio >= 4.5, "contrast, %s: %s" % (way, what), "%.2f" % ratio)
        for edge, ground, what in [(v["line"], v["paper"], "edge on paper"), (v["line"], "#fff", "edge on a card"),
                                   (v["ink"], v["paper"], "focus and box")]:
            ratio = contrast(edge, ground)
            c.check(ratio >= 3.0, "contrast, %s: %s" % (way, what), "%.2f" % ratio)


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    browser.need()
    program, clock, c = os.path.abspath(sys.argv[1]), pack.Clock(), Checks(quiet=True)
    with tempfile.TemporaryDirectory() as folder:
        def path(i, end):
            return os.path.join(folder, "%d%s" % (i, end))

        def write(i):
            _, job, words, settings = PACKS[i]
            pack.Job(program, *job).write("html", path(i, ".html"), *words)
            # Both papers for the first, which is short; else in turn.
            papers = ["a4", "letter"] if i == 0 else [["a4", "letter"][i % 2]]
            return {"file": path(i, ".html"), "axe": settings,
                    "print": {p: path(i, "-%s.pdf" % p) for p in papers}}
        jobs = pack.each(write, range(len(PACKS)))
        bad = path(99, ".html")
        with open(bad, "w", encoding="utf-8") as f:
            f.write(BAD % "".join("<tr><td>row %d" % i + "<br>line" * 7 + "</td></tr>" for i in range(40)))
        results = browser.look(jobs + [{"file": bad, "axe": ["light"], "print": {"a4": path(99, ".pdf")}}], folder)
        check_itself(c, results[-1], path(99, ".pdf"))
        for (name, *_), job, seen in zip(PACKS, jobs, results):
            with open(job["file"], encoding="utf-8") as f:
                text = f.read()
            browser.check_page(c, name, seen)
            c.equal(set(re.findall(r"https?:[^\s\"'<)]*", text)), {"http://www.w3.org/2000/svg"},
                    name + ": no address but the name of SVG")
            c.equal(seen["inventory"]["lang"], "de" if "German" in name else "en", name + ": language")
            check_colours(c, text)
            for paper, pdf in job["print"].items():
                browser.check_print(c, "%s, %s" % (name, paper), seen, pdf)
    clock.say("HTML")
    c.finish()


if __name__ == "__main__":
    main()
