#!/usr/bin/env python3
"""Texts of a plan, from the sources to the message catalogues in src/language/.

usage: tools/messages.py           write stillset.pot, bring each *.po up to it
       tools/messages.py --check   say what is missing or out of date; exit status 1 if anything is

What counts as a text: every literal of the files below that has a space in it, every one that is marked
with WORD() or said by SAY() or WORDS(), the words of the plant file the lines of the checklists built in. Extraction and merging are GNU gettext's."""
import glob
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

TOP = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
LANGUAGE = "src/language"
FILES = ["src/procedure/*.c", "src/api/assemble*.c", "src/api/asking.c", "src/api/keeping.c",
         "src/api/planning_on.c", "src/api/replan.c", "src/api/service.c", "src/api/notes.c", "src/policy/demand*.c",
         "src/policy/policy.c", "src/relief/*.c", "src/drain/*.c", "src/output/pack*.c", "src/output/figures.c", "src/output/diagram_[dhlpw]*.c", "src/output/text.c", "src/output/text_detail.c"]
# Full of markup: there only what is marked.
MARKED_ONLY = {"src/output/pack_html.c"} | {"src/output/diagram_%s.c" % part for part in (
    "draw", "heights", "label", "page", "paper_draw", "proof", "words")} | {
        "src/output/text.c", "src/output/text_detail.c"}
VALVES = {"globe", "gate", "ball", "plug", "butterfly", "diaphragm", "needle", "angle", "stop-check", "check",
          "control", "expansion", "regulator", "solenoid", "relief", "excess-flow", "self-closing", "float",
          "three-way"}
# No words to translate: placeholders, figures with a unit, hazard statements.
NOT_TEXTS = re.compile(
    r"^(%[-.0-9a-z]*|\d+|\b(degC|barg|bara|mm|kg|L|h|min|s|H\d\d\d|Hxxx|H2xx|H3xx|R)\b|[\s,;:.()\[\]{}<>/='\"#|+*-])*$")


def run(*args, **more):
    return subprocess.run(args, cwd=TOP, check=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                          text=True, **more).stdout


def sources():
    return sorted(os.path.relpath(f, TOP) for p in FILES for f in glob.glob(os.path.join(TOP, p)))


def from_c(every):
    """msgid -> comment lines; `every`: all literals, else those marked."""
    args = ["xgettext", "--language=C", "--from-code=UTF-8", "--no-wrap", "--sort-by-file", "-o", "-"]
    args += ["-a"] if every else ["-k", "-kWORD:1", "-kSAY:1", "-kWORDS:1", "-kstill_say:3", "-kstill_arena_printf:2"]
    return parse(run(*args, *[f for f in sources() if not (every and f in MARKED_ONLY)]))


def unquote(text):
    return "".join(re.findall(r'"((?:[^"\\]|\\.)*)"', text))


def parse(po):
    """Entries of a .po or .pot: [(comments, msgid as written, msgstr as written, flags)]."""
    found = []
    for block in re.split(r"\n\n+", po):
        if "msgid" not in block or "#~" in block:
            continue
        comments = [l for l in block.split("\n") if l.startswith("#")]
        rest = "\n".join(l for l in block.split("\n") if not l.startswith("#"))
        m = re.match(r"msgid ((?:.|\n)*?)\nmsgstr ((?:.|\n)*)", rest)
        if m:
            found.append((comments, unquote(m.group(1)), unquote(m.group(2))))
    return found


def checklist_lines():
    tree = ET.parse(os.path.join(TOP, "src/procedure/checklists.xml"))
    space = "{urn:stillset:checklists:1}"
    for kind in tree.iter(space + "checklist"):
        yield kind.get("kind")
        for line in kind.iter(space + "line"):
            for name in ("do", "expect", "if-not", "source"):
                text = line.get(name)
                if text:
                    yield text.replace("\\", "\\\\").replace('"', '\\"')


def vocabulary():
    """Words of the closed vocabularies; of valves with the word that stands behind."""
    with open(os.path.join(TOP, "src/model/words.h"), encoding="utf-8") as f:
        for name, word in re.findall(r'X\(E, ([A-Z_]+),\s*"([^"]+)"', re.sub(r"\s*\\\n\s*", " ", f.read())):
            yield word
            if word in VALVES and name != "PLUG":
                yield word + " valve"


def template():
    marked = from_c(False)
    keep = {}
    for comments, msgid, _ in from_c(True):
        words = msgid.replace("\\n", " ")
        if msgid and " " in words and not NOT_TEXTS.match(words):
            keep.setdefault(msgid, comments)
    for comments, msgid, _ in marked:
        if msgid and not NOT_TEXTS.match(msgid):
            keep.setdefault(msgid, comments)
    for text in vocabulary():
        keep.setdefault(text, ["#: src/model/words.h"])
    for text in checklist_lines():
        keep.setdefault(text, ["#: src/procedure/checklists.xml"])
    head = ('msgid ""\nmsgstr ""\n"Project-Id-Version: stillset\\n"\n'
            '"Content-Type: text/plain; charset=UTF-8\\n"\n"Content-Transfer-Encoding: 8bit\\n"\n')
    out = [head]
    for msgid, comments in keep.items():
        where = [c if not c.startswith("#:") else re.sub(r":\d+", "", c) for c in comments
                 if c.startswith(("#:", "#,"))]
        for i, c in enumerate(where):
            if c.startswith("#:"):
                where[i] = "#: " + " ".join(sorted(set(c[2:].split())))
        out.append("\n".join(where + ['msgid "%s"' % msgid, 'msgstr ""']) + "\n")
    return "\n".join(out)


def catalogues():
    return sorted(glob.glob(os.path.join(TOP, LANGUAGE, "*.po")))


def check():
    want = [m for _, m, _ in parse(template()) if m]
    bad = 0
    for path in catalogues():
        subprocess.run(["msgfmt", "--check", "-o", os.devnull, path], check=True)
        with open(path, encoding="utf-8") as f:
            have = {m: (t, c) for c, m, t in parse(f.read())}
        for msgid in want:
            text, comments = have.get(msgid, ("", []))
            why = None
            if msgid not in have:
                why = "is missing"
            elif text == "":
                why = "is not translated"
            elif any("fuzzy" in c for c in comments):
                why = "is marked as uncertain (fuzzy)"
            if why:
                bad += 1
                print("%s: %s: \"%s\"" % (os.path.relpath(path, TOP), why, msgid))
        for msgid in have:
            if msgid and msgid not in want:
                bad += 1
                print("%s: no longer a text of the program: \"%s\"" % (os.path.relpath(path, TOP), msgid))
    print("%d texts, %d at fault" % (len(want), bad))
    return 1 if bad else 0


def update():
    pot = os.path.join(TOP, LANGUAGE, "stillset.pot")
    with open(pot, "w", encoding="utf-8") as f:
        f.write(template())
    for path in catalogues():
        with tempfile.NamedTemporaryFile("w+", suffix=".po") as merged:
            subprocess.run(["msgmerge", "-q", "--no-fuzzy-matching", "--no-wrap", "-o", merged.name, path, pot],
                           check=True)
            with open(merged.name, encoding="utf-8") as f:
                text = f.read()
        text = re.sub(r"(?m)^#~.*\n?", "", text).rstrip() + "\n"
        with open(path, "w", encoding="utf-8") as f:
            f.write(text)
    return 0


sys.exit(check() if "--check" in sys.argv[1:] else update())
