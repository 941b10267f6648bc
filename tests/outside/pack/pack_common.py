"""What the checks of the pack share: making packs, reading PDF files, counting."""

import base64
import concurrent.futures
import hashlib
import html
import json
import math
import os
import re
import shutil
import subprocess
import sys
import time

HERE = os.path.dirname(os.path.abspath(__file__))
TOP = os.path.dirname(os.path.dirname(os.path.dirname(HERE)))
DEMO = os.path.join(TOP, "plants-demo")
MODULES = os.path.join(HERE, "node_modules")
SECONDS = 60
POINTS_PER_MM = 72 / 25.4
PAPERS_MM = {"a4": (210, 297), "a3": (297, 420), "letter": (215.9, 279.4), "tabloid": (279.4, 431.8)}
# Paper of all but the diagram, whose paper is asked for.
TEXT_PAPER = {"a4": "a4", "a3": "a4", "letter": "letter", "tabloid": "letter"}

# Plants and targets: ready and not, feasible and not, short lists and long ones.
JOBS = [("tutorial", "MV-1"), ("tutorial", "CV-1"), ("cold-store", "MV-1"), ("cold-store", "P-1"),
        ("cold-store", "E-1"), ("cold-store", "V-1"), ("co2-booster", "EV-1"), ("solvent", "P-1"),
        ("solvent", "F-1")]


def skip(why):
    """Where something is not installed: 77, but an error where all of it has to be."""
    print(("missing: " if os.environ.get("CI") else "skipped: ") + why)
    sys.exit(1 if os.environ.get("CI") else 77)


def need(*tools):
    for tool in tools:
        if shutil.which(tool) is None:
            skip(tool + " is not installed (tools/packages.sh test)")


def need_modules():
    for name in ("axe-core", "html-validate", "playwright-core"):
        if not os.path.isdir(os.path.join(MODULES, name)):
            skip("the npm package %s is not installed (tools/packages.sh test)" % name)


def run(*words, good=(0,), text=False, data=None):
    """Run a program; its output, or an error that says what it wrote."""
    done = subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, input=data,
                          timeout=SECONDS, check=False)
    if done.returncode not in good:
        raise RuntimeError("%s: exit status %d: %s" % (
            " ".join(words), done.returncode,
            (done.stderr + done.stdout).decode("utf-8", "replace").strip()[:800]))
    return done.stdout.decode("utf-8") if text else done.stdout


def each(function, items, workers=2):
    """Call for each item, two at a time; results in order."""
    with concurrent.futures.ThreadPoolExecutor(workers) as pool:
        return list(pool.map(function, items))


class Clock:
    """Says how long a check took."""

    def __init__(self):
        self.start = time.monotonic()

    def say(self, what):
        print("%s: %.1f s" % (what, time.monotonic() - self.start))


def squeeze(text):
    """Without white space: lines may break anywhere."""
    return re.sub(r"\s+", "", text)


def plant_path(name):
    return name if os.path.sep in name else os.path.join(DEMO, name + ".xml")


class Job:
    """A plan of a plant in several forms."""

    def __init__(self, program, plant, target, extra=("--grade", "single")):
        self.program, self.target = program, target
        self.plant = plant_path(plant)
        self.name = os.path.splitext(os.path.basename(plant))[0] + " " + target
        self.extra = list(extra)

    def make(self, form, *more):
        """The bytes that the program writes to standard output."""
        return run(self.program, "plan", self.plant, "--target", self.target, *self.extra, "--format",
                   form, *more, good=(0, 1))

    def write(self, form, path, *more):
        run(self.program, "plan", self.plant, "--target", self.target, *self.extra, "--format", form,
            *more, "-o", path, good=(0, 1))
        return path

    def read_record(self):
        data = self.make("json")
        return json.loads(data.decode("utf-8")), hashlib.sha256(data).hexdigest()


# ---- PDF ----

class Word:
    """A word on a page as poppler sees it; points, y downwards."""

    def __init__(self, box, text):
        self.x0, self.y0, self.x1, self.y1 = box
        self.text = text

    def __repr__(self):
        return "%r at %.0f,%.0f" % (self.text, self.x0, self.y0)


class Page:
    def __init__(self, width, height, words):
        self.width, self.height, self.words = width, height, words

    def text(self):
        return squeeze("".join(w.text for w in self.words))


def read_words(pdf):
    """Pages with their words, in the order in which they were written."""
    pages, at = [], None
    number = r'="([-0-9.]+)"'
    page = re.compile(r"<page width" + number + " height" + number)
    word = re.compile("<word xMin" + number + " yMin" + number + " xMax" + number + " yMax" + number
                      + ">(.*)</word>")
    made = run("pdftotext", "-raw", "-bbox", pdf, "-")
    # poppler writes characters beyond 16 bits as two halves here, which is no UTF-8.
    for line in made.decode("utf-8", "replace").split("\n"):
        found = page.search(line)
        if found:
            at = Page(float(found[1]), float(found[2]), [])
            pages.append(at)
        found = word.search(line)
        if found:
            box = [float(found[i]) for i in range(1, 5)]
            at.words.append(Word(box, html.unescape(found[5])))
    return pages


class Pdf:
    """Objects of a PDF file, as qpdf gives them."""

    def __init__(self, path):
        made = run("qpdf", "--json=2", "--json-stream-data=inline", "--decode-level=generalized", path)
        whole = json.loads(made.decode("utf-8"))
        self.objects, self.pages = whole["qpdf"][1], whole["pages"]
        self.outlines = whole["outlines"]

    def value(self, x):
        """What a reference stands for."""
        while isinstance(x, str) and re.fullmatch(r"\d+ \d+ R", x):
            item = self.objects["obj:" + x]
            x = item["value"] if "value" in item else item["stream"]
        return x

    def stream(self, reference):
        return base64.b64decode(self.value(reference)["data"])

    def bookmarks(self):
        """(title, number of page from 1) at the upper level, and how many lie below."""
        return [(o["title"], o["destpageposfrom1"], len(o.get("kids", []))) for o in self.outlines]

    def text_sizes(self, page):
        """(size in points on paper, y in points from below) of each text shown."""
        out = []
        resources = self.value(self.inherited(page["object"], "/Resources"))
        for content in page["contents"]:
            self.walk(self.stream(content), resources, (1, 0, 0, 1, 0, 0), out)
        return out

    def inherited(self, reference, key):
        at = self.value(reference)
        while key not in at:
            at = self.value(at["/Parent"])
        return at[key]

    def walk(self, data, resources, matrix, out):
        """The few operators that matter for where and how large text stands."""
        token = re.compile(rb"\((?:\\.|[^()\\])*\)|<<|>>|<[0-9A-Fa-f\s]*>|\[|\]|/[^\s/\[\]<>()]+|[^\s/\[\]<>()]+")
        stack, words, size, text = [], [], 0.0, (1, 0, 0, 1, 0, 0)
        for t in token.findall(data):
            if re.match(rb"[-+.\d/(<\[\]>]", t):
                words.append(t)
                continue
            if t == b"q":
                stack.append((matrix, size))
            elif t == b"Q":
                matrix, size = stack.pop()
            elif t == b"cm":
                matrix = multiply(numbers(words, 6), matrix)
            elif t == b"BT":
                text = (1, 0, 0, 1, 0, 0)
            elif t == b"Tf":
                size = float(words[-1])
            elif t == b"Tm":
                text = tuple(numbers(words, 6))
            elif t in (b"Td", b"TD"):
                x, y = numbers(words, 2)
                text = multiply((1, 0, 0, 1, x, y), text)
            elif t in (b"Tj", b"TJ"):
                m = multiply(text, matrix)
                out.append((size * math.hypot(m[2], m[3]), m[5]))
            elif t == b"Do":
                form = self.value(self.value(resources["/XObject"])[words[-1].decode()])
                inner = form["dict"]
                if inner["/Subtype"] == "/Form":
                    self.walk(base64.b64decode(form["data"]), self.value(inner.get("/Resources", resources)),
                              multiply(inner.get("/Matrix", (1, 0, 0, 1, 0, 0)), matrix), out)
            words = []


def numbers(words, n):
    return [float(w) for w in words[-n:]]


def multiply(a, b):
    """First a, then b."""
    return (a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3],
            a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
            a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5])
