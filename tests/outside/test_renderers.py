#!/usr/bin/python3
"""Pictures are valid SVG and look alike in two renderers that have nothing in common.

    test_renderers.py STILLSET

Each picture is drawn by librsvg (rsvg-convert) and by Chromium at the same size, both are made
grey, smoothed over a few dots (edges and letters are softened differently), and compared:
at most 0.5 % of all dots may differ by more than 25 % of black-to-white, and 2 % on average must
not be reached. The program's own PNG is held against librsvg likewise.

Exit status 77 = skipped, since a renderer is not installed."""

import os
import shutil
import subprocess
import sys
import tempfile
import xml.dom.minidom

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
WIDTH = 1600
MOST_DOTS, STEP, MOST_MEAN = 0.005, 64, 0.02 * 255
TARGETS = ["MV-1", "E-1", "HV-3"]


def skip(why):
    print("skipped: " + why)
    sys.exit(77)


def chromium(svg, png, width, height):
    """A page that holds nothing but the picture, at the size asked for."""
    with tempfile.TemporaryDirectory() as home:
        page = os.path.join(home, "page.html")
        with open(page, "w", encoding="utf-8") as f:
            f.write('<!doctype html><meta charset="utf-8"><style>body{margin:0}img{display:block}'
                    f'</style><img src="file://{svg}" width="{width}" height="{height}">')
        subprocess.run(
            ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic",
             "--no-first-run", "--disable-background-networking", "--disable-component-update",
             "--disable-sync", "--hide-scrollbars", "--allow-file-access-from-files",
             "--user-data-dir=" + os.path.join(home, "profile"), "--screenshot=" + png,
             f"--window-size={width},{height}", "file://" + page],
            check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=50)


def compare(first, second, name):
    from PIL import Image, ImageChops, ImageFilter
    a, b = Image.open(first).convert("L"), Image.open(second).convert("L")
    if a.size != b.size:
        b = b.resize(a.size, Image.LANCZOS)
    a, b = (x.filter(ImageFilter.GaussianBlur(2)) for x in (a, b))
    bins = ImageChops.difference(a, b).histogram()
    total = sum(bins)
    share = sum(bins[STEP:]) / total
    mean = sum(i * n for i, n in enumerate(bins)) / total
    # A picture that is empty would be like every other empty one.
    ink = sum(a.histogram()[:200]) / total
    good = share <= MOST_DOTS and mean <= MOST_MEAN and ink > 0.002
    print(f"{name}: {100 * share:.3f} % of dots differ, {mean:.2f} of 255 on average, "
          f"{100 * ink:.1f} % ink{'' if good else ': FAILED'}")
    return good


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    program = os.path.abspath(sys.argv[1])
    for tool in ("rsvg-convert", "chromium"):
        if shutil.which(tool) is None:
            skip(tool + " is not installed")
    try:
        import PIL  # noqa: F401
    except ImportError:
        skip("python3-pil is not installed")
    plant = os.path.join(TOP, "plants-demo", "tutorial.xml")
    good = True
    with tempfile.TemporaryDirectory() as work:
        pictures = [(t, ["plan", plant, "--target", t, "--grade", "single"]) for t in TARGETS]
        pictures.append(("whole", ["draw", plant]))
        for name, words in pictures:
            svg, own, rsvg, chrome = (os.path.join(work, name + end)
                                      for end in (".svg", ".png", "-rsvg.png", "-chrome.png"))
            for form, out in (("svg", svg), ("png", own)):
                code = subprocess.run([program, *words, "--format", form, "-o", out],
                                      check=False).returncode
                if code not in (0, 1):
                    sys.exit(f"{name}: exit status {code}")
            xml.dom.minidom.parse(svg)
            from PIL import Image
            size = Image.open(own).size
            height = round(WIDTH * size[1] / size[0])
            subprocess.run(["rsvg-convert", "-w", str(WIDTH), "-h", str(height), svg, "-o", rsvg],
                           check=True)
            chromium(svg, chrome, WIDTH, height)
            good &= compare(rsvg, chrome, name + ", librsvg and Chromium")
            good &= compare(rsvg, own, name + ", librsvg and the program's PNG")
    sys.exit(0 if good else 1)


if __name__ == "__main__":
    main()
