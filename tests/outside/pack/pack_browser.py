"""HTML files as programs of people see them (check.mjs), and what is asked of every one."""

import json
import os
import subprocess

import pack_common as pack

SETTINGS = ["light", "dark", "narrow"]
# What each page may point at: parts of itself, and nothing else.
PARTS = {"#main", "#decision", "#diagram", "#steps", "#back", "#cards", "#appendix"}


def need():
    pack.need("node", "pdftotext")
    if not os.path.exists(os.environ.get("STILL_CHROMIUM", "/usr/bin/chromium")):
        pack.skip("chromium is not installed (tools/packages.sh test)")
    pack.need_modules()


def look(jobs, folder):
    """Results of check.mjs, one for each job."""
    asked, got = os.path.join(folder, "jobs.json"), os.path.join(folder, "results.json")
    with open(asked, "w", encoding="utf-8") as f:
        json.dump(jobs, f)
    done = subprocess.run(["node", os.path.join(pack.HERE, "check.mjs"), asked, got],
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=280, check=False)
    if done.returncode != 0:
        raise RuntimeError("check.mjs: " + done.stdout.decode("utf-8", "replace")[-1500:])
    with open(got, encoding="utf-8") as f:
        return json.load(f)


def check_page(c, name, seen):
    """Valid, accessible, at rest, alone, and no wider than its window."""
    c.check(not seen["validate"], name + ": html-validate", repr(seen["validate"][:3]))
    for setting, found in seen["axe"].items():
        c.check(not found, "%s: axe-core, %s" % (name, setting), json.dumps(found)[:700])
        c.check(seen["wider"][setting] <= 0, "%s: fits its window, %s" % (name, setting),
                "%d too wide" % seen["wider"][setting])
    c.check(not seen["requests"], name + ": asks the network for nothing", repr(seen["requests"][:3]))
    c.check(not seen["dialogs"] and not seen["errors"], name + ": runs nothing",
            repr(seen["dialogs"] + seen["errors"]))
    links = set(seen["inventory"]["links"])
    c.check(links <= PARTS, name + ": points at nothing but its parts", repr(links - PARTS))
    bad = [s for s in seen["inventory"]["sorts"]
           if s.split("[")[0].split(":")[1] in ("script", "foreignObject", "iframe", "object", "embed", "img", "link")
           or any(a.startswith("on") for a in s.split("[")[1][:-1].split())]
    c.check(not bad, name + ": nothing in it that could act", repr(bad))


def cut_rows(rows, pages, tallest):
    """Rows, cards and items that do not stand on one page whole. Chromium writes a page's text in
    the order of the document, cell after cell."""
    texts = [p.text() for p in pages]
    at, cut = (0, 0), []
    for row in rows:
        wanted = pack.squeeze(row["text"])
        if not wanted:
            continue
        for page in range(at[0], len(texts)):
            found = texts[page].find(wanted, at[1] if page == at[0] else 0)
            if found >= 0:
                at = (page, found + len(wanted))
                break
        else:
            if row["height"] <= tallest:
                cut.append("%s: %s" % (row["kind"], wanted[:80]))
    return cut


def check_print(c, name, seen, pdf):
    pages = pack.read_words(pdf)
    # What is as high as a page may go over its end.
    cut = cut_rows(seen["rows"], pages, 900)
    c.check(not cut, name + ": no row is cut in print", repr(cut[:3]))
    out = ["page %d: %r" % (i, w) for i, p in enumerate(pages, 1) for w in p.words
           if w.x0 < 0 or w.y0 < 0 or w.x1 > p.width or w.y1 > p.height]
    c.check(not out, name + ": no word outside the page in print", repr(out[:3]))
