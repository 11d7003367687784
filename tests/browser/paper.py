"""Prints HTML pages with a headless browser and measures the paper.

Needs Chromium and poppler-utils; of Python the standard library only. Lengths are millimetres from
the left upper corner of the page, y downwards.
"""

import html
import json
import os
import re
import shutil
import subprocess
import tempfile
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass

MM_PER_POINT = 25.4 / 72
PHONE_WIDTH_PX = 360
PAGE_WIDTH_PX = 720  # about that of either paper without its margins

BROWSER_OPTIONS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def browser():
    for name in ("chromium", "chromium-browser"):
        path = shutil.which(name)
        if path:
            return path
    raise RuntimeError("no chromium on the PATH; it prints the pages that are measured")


def run_browser(options, address):
    """Runs the browser with an empty profile of its own; returns its standard output."""
    with tempfile.TemporaryDirectory(prefix="slantrule-browser-") as profile:
        command = [browser(), *BROWSER_OPTIONS, "--user-data-dir=" + profile, *options, address]
        done = subprocess.run(command, capture_output=True, timeout=120, check=False)
    if done.returncode != 0:
        raise RuntimeError("the browser failed: " + done.stderr.decode(errors="replace")[-2000:])
    return done.stdout.decode(errors="replace")


def print_to_pdf(html_path, pdf_path):
    """The page as it leaves the printer at 100 %."""
    run_browser(
        ["--print-to-pdf=" + str(pdf_path), "--no-pdf-header-footer"],
        "file://" + os.path.abspath(html_path),
    )
    if not os.path.exists(pdf_path):
        raise RuntimeError("the browser printed nothing for " + str(html_path))


def tool(*command):
    return subprocess.run(command, capture_output=True, timeout=120, check=True).stdout.decode()


def page_count(pdf_path):
    return int(re.search(r"^Pages:\s+(\d+)", tool("pdfinfo", str(pdf_path)), re.M).group(1))


def page_size_mm(pdf_path):
    found = re.search(r"^Page size:\s+([\d.]+) x ([\d.]+) pts", tool("pdfinfo", str(pdf_path)), re.M)
    return float(found.group(1)) * MM_PER_POINT, float(found.group(2)) * MM_PER_POINT


@dataclass
class Word:
    page: int  # from 0
    text: str
    left: float
    top: float
    right: float
    bottom: float


def texts_with_boxes(pdf_path):
    """Every word of the PDF with the box of its line."""
    words = []
    page = -1
    source = tool("pdftotext", "-bbox", str(pdf_path), "-")
    number = r"([-\d.]+)"
    word = re.compile(
        rf'<word xMin="{number}" yMin="{number}" xMax="{number}" yMax="{number}">(.*?)</word>'
    )
    for line in source.splitlines():
        if "<page " in line:
            page += 1
        found = word.search(line)
        if found:
            box = [float(found.group(i)) * MM_PER_POINT for i in range(1, 5)]
            words.append(Word(page, html.unescape(found.group(5)), *box))
    return words


@dataclass
class Segment:
    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def length(self):
        return ((self.x2 - self.x1) ** 2 + (self.y2 - self.y1) ** 2) ** 0.5

    @property
    def horizontal(self):
        return abs(self.y2 - self.y1) < 0.01

    @property
    def vertical(self):
        return abs(self.x2 - self.x1) < 0.01

    @property
    def middle(self):
        return (self.x1 + self.x2) / 2, (self.y1 + self.y2) / 2


def matrix_of(text):
    found = re.fullmatch(r"\s*matrix\(([^)]*)\)\s*", text or "")
    if not found:
        return (1, 0, 0, 1, 0, 0)
    return tuple(float(one) for one in re.split(r"[\s,]+", found.group(1).strip()))


def product(m, n):
    return (
        m[0] * n[0] + m[2] * n[1],
        m[1] * n[0] + m[3] * n[1],
        m[0] * n[2] + m[2] * n[3],
        m[1] * n[2] + m[3] * n[3],
        m[0] * n[4] + m[2] * n[5] + m[4],
        m[1] * n[4] + m[3] * n[5] + m[5],
    )


def placed(m, x, y):
    return (
        (m[0] * x + m[2] * y + m[4]) * MM_PER_POINT,
        (m[1] * x + m[3] * y + m[5]) * MM_PER_POINT,
    )


def path_segments(d, matrix):
    """Straight parts of a path as poppler writes it: absolute M, L, C, Z with blanks between."""
    segments = []
    tokens = d.split()
    here = start = None
    i = 0
    while i < len(tokens):
        command = tokens[i]
        if command == "Z":
            if here and start and here != start:
                segments.append(Segment(*here, *start))
            here = start
            i += 1
            continue
        points = {"M": 1, "L": 1, "C": 3}[command]
        numbers = [float(one) for one in tokens[i + 1 : i + 1 + 2 * points]]
        there = placed(matrix, numbers[-2], numbers[-1])
        if command == "L":
            segments.append(Segment(*here, *there))
        if command == "M":
            start = there
        here = there
        i += 1 + 2 * points
    return segments


def line_segments(pdf_path, page):
    """Every straight stroke of a page (from 0). Dashes are filled boxes in a PDF: not among them."""
    source = tool("pdftocairo", "-svg", "-f", str(page + 1), "-l", str(page + 1), str(pdf_path), "-")
    segments = []

    def walk(element, matrix):
        name = element.tag.rsplit("}", 1)[-1]
        if name == "defs":
            return
        matrix = product(matrix, matrix_of(element.get("transform")))
        style = (element.get("style") or "") + ";"
        if name == "path" and "stroke-width" in style and "stroke:none" not in style:
            segments.extend(path_segments(element.get("d"), matrix))
        for child in element:
            walk(child, matrix)

    walk(ElementTree.fromstring(source), (1, 0, 0, 1, 0, 0))
    return segments


def crosses(segments, size_mm, tolerance_mm=0.1):
    """Centres of the upright crosses whose arms are `size_mm` from end to end."""
    fitting = [one for one in segments if abs(one.length - size_mm) < tolerance_mm]
    level = [one for one in fitting if one.horizontal]
    upright = [one for one in fitting if one.vertical]
    centres = []
    for one in level:
        for other in upright:
            (x, y), (u, v) = one.middle, other.middle
            if abs(x - u) < tolerance_mm and abs(y - v) < tolerance_mm:
                centres.append(((x + u) / 2, (y + v) / 2))
    return centres


def in_frame(html_text, width_px, script):
    """Runs `script` over the page `d` in a frame of that width; returns what it puts into `found`.

    A frame with its source inside may be looked at by the page around it.
    """
    around = (
        "<!DOCTYPE html><meta charset='utf-8'><body style='margin:0'>"
        f"<iframe id='f' style='border:0;width:{width_px}px;height:740px' srcdoc=\""
        + html_text.replace("&", "&amp;").replace('"', "&quot;")
        + "\"></iframe><script>addEventListener('load', () => {"
        "const d = document.getElementById('f').contentDocument; let found;"
        + script
        + "document.body.innerHTML = '<pre id=\"found\"></pre>';"
        "document.getElementById('found').textContent = 'FOUND' + JSON.stringify(found) + 'END';"
        "})</script>"
    )
    with tempfile.TemporaryDirectory(prefix="slantrule-frame-") as folder:
        path = os.path.join(folder, "frame.html")
        with open(path, "w", encoding="utf-8") as file:
            file.write(around)
        dom = run_browser(["--dump-dom"], "file://" + path)
    found = re.search(r"<pre id=\"found\">FOUND(.*?)END</pre>", dom, re.S)
    if not found:
        raise RuntimeError("the page could not be looked at")
    return json.loads(html.unescape(found.group(1)))


def words_for_paper(html_text):
    """The words that the page shows on paper: what its style hides there is left out."""
    as_printed = html_text.replace("@media print", "@media all")
    as_printed = as_printed.replace("@media screen", "@media not all")
    return in_frame(
        as_printed,
        PAGE_WIDTH_PX,
        "found = '';"
        "const walker = d.createTreeWalker(d.body, NodeFilter.SHOW_TEXT);"
        "while (walker.nextNode())"
        " if (walker.currentNode.parentElement.checkVisibility())"
        " found += ' ' + walker.currentNode.textContent;",
    ).split()


def overlapping_words(words, least_mm=0.25):
    """Pairs of words of a page that cover each other. The box of a word has some air above and
    below its letters, which is taken off."""

    def ink(word):
        if word.bottom - word.top > word.right - word.left and len(word.text) > 1:  # turned
            air = 0.2 * (word.right - word.left)
            return word.left + air, word.top, word.right - air, word.bottom
        air = 0.2 * (word.bottom - word.top)
        return word.left, word.top + air, word.right, word.bottom - air

    pairs = []
    for i, one in enumerate(words):
        for other in words[i + 1 :]:
            if one.page != other.page:
                continue
            a, b = ink(one), ink(other)
            across = min(a[2], b[2]) - max(a[0], b[0])
            down = min(a[3], b[3]) - max(a[1], b[1])
            if across > least_mm and down > least_mm:
                pairs.append((one.text, other.text))
    return pairs


def width_on_phone_px(html_text, width_px=PHONE_WIDTH_PX):
    """Width of the page in a window of `width_px`, and the elements that stick out of it."""
    found = in_frame(
        html_text,
        width_px,
        "const out = [];"
        "for (const e of d.body.querySelectorAll('*'))"
        f" if (e.getBoundingClientRect().right > {width_px} + 0.5)"
        " out.push(e.tagName + ' ' + e.textContent.slice(0, 40));"
        "found = [d.documentElement.scrollWidth, out.slice(0, 5)];",
    )
    return found[0], found[1]
