"""Prints what the program makes as HTML with a headless browser and measures the paper.

usage: browser_test.py PROGRAM SOURCE_FOLDER [unittest options]
"""

import collections
import glob
import itertools
import os
import re
import subprocess
import sys
import tempfile
import unittest

import paper

PROGRAM = SOURCE = ""

PAPER_SIZES_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}  # ISO 216; 8.5 in x 11 in
# Office printers reach to a sixth of an inch of the edge (common practice, no source).
PRINTER_MARGIN_MM = 4.2
TOLERANCE_MM = 0.2  # of the ruler and the spacing

WATER = ["fluid.name=water", "fluid.temperature=20 degC", "pipe.liner=none"]
PAIR = (
    'sensors={"key":"own","frequency":"1 MHz","element":"12 mm","wedge":{"sound_speed":"2430 m/s",'
    '"slope":"-1.9 m/s/K","angle":"38 deg","path":"14 mm"},"setback":"14 mm","nose":"16 mm",'
    '"length":"58 mm"}'
)
SMALL_PAIR = PAIR.replace('"14 mm"', '"8 mm"').replace('"16 mm"', '"9 mm"')
CROSSED_PAIR = PAIR.replace('"setback":"14 mm"', '"setback":"-60 mm"')


def job(*keys):
    return [part for key in [*WATER, *keys] for part in ("--set", key)]


def horizontal(diameter, wall, material, traverses, clock="3"):
    return job(
        f"pipe.outside_diameter={diameter}",
        f"pipe.wall={wall}",
        f"pipe.material={material}",
        "pipe.orientation=horizontal",
        f"path.traverses={traverses}",
        f"location.clock={clock}",
        PAIR,
    )


LONG = "W" * 200
HARD_TEXTS = [
    "tag=<script>alert('x')</script> \"quoted\" " + LONG,
    "title=شريط القياس <b>الطويل</b> " + LONG,
    "site=" + LONG,
    "note=<img src=x onerror=alert(1)> " + "long words " * 60,
    "prepared_by=" + LONG,
]

# Name, arguments. Pipes from 15 mm to 1.6 m, both sides, level and upright.
WRAP_JOBS = {
    "15 mm copper": ["examples/copper-tube.json", "--set", "path.traverses=4"],
    "15 mm copper, own pair": job(
        "pipe.size=EN 1057 15 x 0.7", "pipe.material=copper", "pipe.orientation=vertical up",
        "path.traverses=6", "location.clock=door", SMALL_PAIR),
    "DN 50": horizontal("60.3 mm", "3.9 mm", "carbon steel", 2, "2:30"),
    "DN 150": ["examples/chilled-water.json"],
    "DN 150, opposite": ["examples/chilled-water.json", "--set", "path.traverses=1"],
    "upright, 8 in": ["examples/hot-water-own-pair.json"],
    "8 in PVC": horizontal("219.1 mm", "8.2 mm", "PVC", 1, "9:30"),
    "300 mm": horizontal("323.9 mm", "9.5 mm", "carbon steel", 2),
    "600 mm, opposite": horizontal("610 mm", "9.5 mm", "carbon steel", 1),
    "600 mm": horizontal("610 mm", "9.5 mm", "carbon steel", 2),
    "1.6 m": ["examples/grp-large.json"],
    "1.6 m, far apart": horizontal("1600 mm", "12 mm", "carbon steel", 4),
    "marks cross": job(
        "pipe.size=DN150 sch 40", "pipe.material=carbon steel", "pipe.orientation=horizontal",
        "path.traverses=1", "location.clock=3", CROSSED_PAIR),
    "hard texts": job(
        "pipe.size=DN150 sch 40", "pipe.material=carbon steel", "pipe.orientation=vertical down",
        "path.traverses=1", "location.clock=<i>" + LONG,
        'pipe.coating={"material":"epoxy","thickness":"0.3 mm","under_sensors":"removed"}',
        PAIR, *HARD_TEXTS),
}  # fmt: skip

# Sheets of every kind: easy, lined, many findings, candidates open, a stop, hard texts.
SHEET_JOBS = {
    "chilled water": ["examples/chilled-water.json"],
    "copper": ["examples/copper-tube.json"],
    "mortar": ["examples/ductile-mortar.json"],
    "short run": ["examples/short-run.json"],
    "hazardous": ["examples/diesel-hazardous.json"],
    "frost": ["examples/glycol-cold.json"],
    "1.6 m": ["examples/grp-large.json"],
    "candidates": ["examples/wall-unknown.json"],
    "stop": ["examples/seawater-cuni.json"],
    "hard texts": ["examples/short-run.json", *[part for key in HARD_TEXTS for part in ("--set", key)]],
}  # fmt: skip

def run(*arguments):
    return subprocess.run(
        [PROGRAM, *arguments], cwd=SOURCE, capture_output=True, timeout=60, check=False
    )


def offers(command, option=None, value=None):
    """Whether the program has the command, and the value among those of its option."""
    if command not in run("--help").stdout.decode().split():
        return False
    lines = run(command, "--help").stdout.decode()
    if option is None:
        return True
    found = re.search(re.escape(option) + r"\b.*", lines)
    return bool(found) and (value is None or value in found.group(0))


class Printed:
    """A page of the program, printed."""

    def __init__(self, folder, *arguments):
        done = run(*arguments)
        self.code = done.returncode
        self.error = done.stderr.decode()
        self.html = done.stdout.decode()
        if not self.html:
            raise AssertionError("no page: " + self.error)
        html_path = os.path.join(folder, "page.html")
        self.pdf = os.path.join(folder, "page.pdf")
        with open(html_path, "w", encoding="utf-8") as file:
            file.write(self.html)
        paper.print_to_pdf(html_path, self.pdf)
        self.pages = paper.page_count(self.pdf)
        self.words = paper.texts_with_boxes(self.pdf)


class PaperCase(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory(prefix="slantrule-paper-")
        self.addCleanup(self.folder.cleanup)

    def printed(self, *arguments):
        return Printed(self.folder.name, *arguments)

    def on_paper(self, page, size):
        """The page with its paper set, as a print dialogue does."""
        style = f"<style>@page {{ size: {size[0]}mm {size[1]}mm }}</style></head>"
        html_path = os.path.join(self.folder.name, "sized.html")
        with open(html_path, "w", encoding="utf-8") as file:
            file.write(page.html.replace("</head>", style, 1))
        page.pdf = os.path.join(self.folder.name, "sized.pdf")
        paper.print_to_pdf(html_path, page.pdf)
        page.pages = paper.page_count(page.pdf)
        page.words = paper.texts_with_boxes(page.pdf)
        return page

    def check_words(self, page, size, margin_mm=PRINTER_MARGIN_MM):
        """All words are on paper that the printer reaches, and none covers another."""
        width, height = size
        for word in page.words:
            self.assertGreaterEqual(word.left, margin_mm, word)
            self.assertGreaterEqual(word.top, margin_mm, word)
            self.assertLessEqual(word.right, width - margin_mm, word)
            self.assertLessEqual(word.bottom, height - margin_mm, word)
        self.assertEqual(paper.overlapping_words(page.words), [])

    def check_nothing_missing(self, page):
        """Every word of the page is on the paper, as often; long ones may be broken by line ends."""
        on_paper = "".join(word.text for word in page.words)
        for word, times in collections.Counter(paper.words_for_paper(page.html)).items():
            if word.isascii() and len(word) < 20 and on_paper.count(word) < times:
                self.fail(f'"{word}" is {times} times on the page, {on_paper.count(word)} on paper')

    def check_harmless(self, page):
        """No script, nothing fetched."""
        self.assertNotRegex(page.html, r"(?i)<script|<img|<iframe|<link|@import|url\(|https?://")

    def check_phone(self, page):
        wide, sticking_out = paper.width_on_phone_px(page.html)
        self.assertLessEqual(wide, paper.PHONE_WIDTH_PX, sticking_out)


class MeasuringItself(PaperCase):
    """The ruler that measures the rulers."""

    def test_lengths_and_places_of_a_known_drawing(self):
        html_path = os.path.join(self.folder.name, "known.html")
        pdf = os.path.join(self.folder.name, "known.pdf")
        with open(html_path, "w", encoding="utf-8") as file:
            file.write(
                "<!DOCTYPE html><style>@page{size:210mm 297mm;margin:10mm}body{margin:0}"
                "svg{display:block}</style><svg width='127mm' height='127mm' viewBox='0 0 127 127'>"
                "<g stroke='#000' stroke-width='.3' transform='matrix(0 -1 1 0 20 120)'>"
                "<path d='M4 50H16M10 44V56'/></g>"
                "<path stroke='#000' stroke-width='.3' d='M5 10H55'/>"
                "<text x='5' y='30' font-size='5'>here</text></svg>"
            )
        paper.print_to_pdf(html_path, pdf)
        self.assertEqual(paper.page_count(pdf), 1)
        for is_mm, wanted_mm in zip(paper.page_size_mm(pdf), PAPER_SIZES_MM["a4"]):
            self.assertAlmostEqual(is_mm, wanted_mm, delta=0.3)
        segments = paper.line_segments(pdf, 0)
        long_one = [one for one in segments if one.length > 40]
        self.assertEqual(len(long_one), 1)
        self.assertAlmostEqual(long_one[0].length, 50, delta=0.05)
        self.assertAlmostEqual(long_one[0].y1, 20, delta=0.1)
        ((x, y),) = paper.crosses(segments, 12)
        self.assertAlmostEqual(x, 10 + 20 + 50, delta=0.1)
        self.assertAlmostEqual(y, 10 + 120 - 10, delta=0.1)
        (word,) = paper.texts_with_boxes(pdf)
        self.assertEqual(word.text, "here")
        self.assertAlmostEqual(word.left, 15, delta=0.5)

    def test_a_wide_page_is_found_out(self):
        head = "<!DOCTYPE html><meta charset='utf-8'>"
        wide, sticking_out = paper.width_on_phone_px(head + "<p style='width:500px'>wide")
        self.assertGreater(wide, paper.PHONE_WIDTH_PX)
        self.assertEqual(sticking_out, ["P wide"])
        self.assertLessEqual(paper.width_on_phone_px(head + "<p>narrow")[0], paper.PHONE_WIDTH_PX)

    def test_words_on_paper_are_those_that_its_style_shows(self):
        page = (
            "<!DOCTYPE html><meta charset='utf-8'><style>@media print { .a { display: none } }"
            "@media screen { .b { display: none } }</style>"
            "<p class='a'>screen</p><p class='b'>paper</p><p>both</p>"
        )
        self.assertEqual(paper.words_for_paper(page), ["paper", "both"])

    def test_words_that_cover_each_other_are_found_out(self):
        one = paper.Word(0, "one", 10, 10, 20, 14)
        other = paper.Word(0, "other", 15, 11, 25, 15)
        below = paper.Word(0, "below", 10, 14, 20, 18)
        self.assertEqual(paper.overlapping_words([one, other, below]), [("one", "other")])


def sheet_spacing_mm(arguments):
    """The number that the setup sheet sets, from its box."""
    sheet = run("plan", *arguments).stdout.decode()
    size = float(re.search(r"^\| SET\s+([\d.]+) mm", sheet, re.M).group(1))
    return -size if "MARKS CROSS" in sheet else size


class WrapStrip(PaperCase):
    def tiles(self, page):
        """Of each tile on the paper: page, piece, row, column, and where it begins."""
        found = []
        for number in range(page.pages):
            line = [word for word in page.words if word.page == number]
            for i, word in enumerate(line):
                text = " ".join(one.text for one in line[i : i + 12])
                named = re.match(
                    r"(Strip|Band A to B|Band to B|Panel A|Panel B)"
                    r"(?:: row (\d+) of (\d+), column (\d+) of (\d+))?(?=\s|$)", text)  # fmt: skip
                if named and word.left < 150 and text.split()[1:2] != ["strip"]:
                    row, rows, column, columns = (int(one or 1) for one in named.groups()[1:])
                    found.append((number, named.group(1), row, rows, column, columns, word))
        return found

    def check_rulers(self, page):
        for number in range(page.pages):
            level = [one.length for one in paper.line_segments(page.pdf, number) if one.horizontal]
            for wanted in (100.0, 101.6):  # 4 in are 101.6 mm
                nearest = min(level, key=lambda length: abs(length - wanted))
                self.assertAlmostEqual(nearest, wanted, delta=TOLERANCE_MM)
            words = [word.text for word in page.words if word.page == number]
            self.assertIn("Measure", words)
            self.assertIn(f"page {number + 1} of {page.pages}", " ".join(words))

    def outlines(self, page, number):
        """Cut outlines of the tiles of a page: left, top, right, bottom; from left to right."""
        found = set()
        segments = paper.line_segments(page.pdf, number)
        level = [one for one in segments if one.horizontal and one.length > 30]
        upright = [one for one in segments if one.vertical and one.length > 30]
        for top, bottom in itertools.permutations(level, 2):
            left, right = sorted((top.x1, top.x2))
            if bottom.y1 - top.y1 < 30 or abs(bottom.length - top.length) > 0.01:
                continue
            if abs(min(bottom.x1, bottom.x2) - left) > 0.01:
                continue
            sides = [
                one for one in upright
                if abs(min(one.y1, one.y2) - top.y1) < 0.01
                and abs(max(one.y1, one.y2) - bottom.y1) < 0.01
            ]  # fmt: skip
            if any(abs(one.x1 - left) < 0.01 for one in sides) and any(
                abs(one.x1 - right) < 0.01 for one in sides
            ):
                found.add(tuple(round(value, 3) for value in (left, top.y1, right, bottom.y1)))
        # Lines from edge to edge make smaller boxes inside an outline.
        whole = [
            one for one in found
            if not any(
                other != one and other[0] <= one[0] + 0.02 and other[1] <= one[1] + 0.02
                and other[2] >= one[2] - 0.02 and other[3] >= one[3] - 0.02 for other in found)
        ]  # fmt: skip
        return sorted(whole)

    def glued(self, page):
        """Crosses in the coordinates of each piece when its tiles are glued, by the letter at them:
        {piece: {"A": (x, y), ...}}, with the datum of a band as "level"."""
        out = {}
        places = {}  # (piece, row, column) -> outline
        where = {}
        for number, group in itertools.groupby(self.tiles(page), key=lambda one: one[0]):
            group = sorted(group, key=lambda one: one[-1].left)
            outlines = self.outlines(page, number)
            self.assertEqual(len(group), len(outlines), (number, group, outlines))
            for (_, piece, row, _, column, _, _), outline in zip(group, outlines):
                places[piece, row, column] = outline
                where.setdefault(number, []).append((piece, row, column, outline))

        def size(piece, row, column, axis):
            outline = places[piece, row, column]
            return outline[2 + axis] - outline[axis]

        overlap = 10
        for number, tiles in where.items():
            segments = paper.line_segments(page.pdf, number)
            marks = paper.crosses(segments, 12)
            for piece, row, column, (left, top, right, bottom) in tiles:
                x0 = sum(size(piece, row, c, 0) - overlap for c in range(1, column))
                y0 = sum(size(piece, r, column, 1) - overlap for r in range(1, row))
                for x, y in marks:
                    if not (left < x < right and top < y < bottom):
                        continue
                    letters = [
                        word for word in page.words
                        if word.page == number and word.text in ("A", "B")
                        and word.bottom - word.top > 3 and word.right - word.left > 3
                    ]  # fmt: skip
                    nearest = min(
                        letters,
                        key=lambda w: (((w.left + w.right) / 2 - x) ** 2
                                       + ((w.top + w.bottom) / 2 - y) ** 2),
                    )  # fmt: skip
                    out.setdefault(piece, {})[nearest.text] = (x0 + x - left, y0 + y - top)
                if piece == "Band to B":
                    for one in segments:
                        across = one.horizontal and abs(one.length - (right - left)) < 0.05
                        inside = left - 0.1 < min(one.x1, one.x2) and max(one.x1, one.x2) < right + 0.1
                        if across and inside and top + 20 < one.y1 < bottom - 20:
                            out.setdefault(piece, {})["level"] = (0, y0 + one.y1 - top)
        return out

    def check_spacing(self, page, spacing_mm, name):
        pieces = self.glued(page)
        if "Strip" in pieces or "Band A to B" in pieces:
            piece = pieces.get("Strip") or pieces["Band A to B"]
            (ax, ay), (bx, by) = piece["A"], piece["B"]
            # The flow runs to the right, or up.
            right = abs(abs(bx - ax) - abs(spacing_mm)) < abs(abs(by - ay) - abs(spacing_mm))
            measured = bx - ax if right else ay - by
        elif "Band to B" in pieces:
            measured = pieces["Band to B"]["level"][1] - pieces["Band to B"]["B"][1]
            self.assertIn("A", pieces["Panel A"])
        else:
            self.assertEqual(set(pieces), {"Panel A", "Panel B"})
            # A tape measures; the figure stands on the paper.
            self.assertRegex(" ".join(w.text for w in page.words), rf"{spacing_mm:.0f} mm")
            return
        self.assertAlmostEqual(measured, spacing_mm, delta=TOLERANCE_MM, msg=name)

    def test_strips(self):
        for (name, arguments), size in itertools.product(WRAP_JOBS.items(), PAPER_SIZES_MM):
            with self.subTest(name=name, paper=size):
                page = self.printed("wrap", *arguments, "--paper", size)
                announced = int(re.search(r">page 1 of (\d+)<", page.html).group(1))
                self.assertEqual(page.pages, announced)
                for is_mm, wanted_mm in zip(paper.page_size_mm(page.pdf), PAPER_SIZES_MM[size]):
                    self.assertAlmostEqual(is_mm, wanted_mm, delta=0.3)
                self.check_words(page, PAPER_SIZES_MM[size])
                if name != "hard texts":
                    self.check_nothing_missing(page)
                self.check_harmless(page)
                self.check_rulers(page)
                self.check_spacing(page, sheet_spacing_mm(arguments), name)

    def test_girth(self):
        """From the start edge to the end line of a glued strip of an NPS 6 pipe: pi x 168.4 mm."""
        for size in PAPER_SIZES_MM:
            with self.subTest(paper=size):
                page = self.printed("wrap", "examples/chilled-water.json", "--paper", size)
                tiles = self.tiles(page)
                length = 0
                for number, _, _, rows, column, columns, _ in tiles:
                    self.assertEqual(rows, 1)
                    ((left, top, right, bottom),) = self.outlines(page, number)
                    if column < columns:
                        length += right - left - 10
                        continue
                    ends = [
                        one.x1 for one in paper.line_segments(page.pdf, number)
                        if one.vertical and abs(one.length - (bottom - top)) < 0.05
                        and left + 5 < one.x1 < right - 5
                    ]  # fmt: skip
                    length += max(ends) - left
                self.assertAlmostEqual(length, 529.04, delta=0.3)

    def test_on_a_phone(self):
        for name in ("DN 150", "1.6 m", "hard texts"):
            with self.subTest(name=name):
                self.check_phone(self.printed("wrap", *WRAP_JOBS[name]))


class Sheet(PaperCase):
    def setUp(self):
        super().setUp()
        if not offers("plan", "--format", "html"):
            self.skipTest("the program has no plan --format html")

    def test_two_pages_on_either_paper(self):
        for name, arguments in SHEET_JOBS.items():
            with self.subTest(name=name):
                page = self.printed("plan", *arguments, "--format", "html")
                self.check_harmless(page)
                self.check_phone(page)
                # The sheet leaves the paper to the printer: the browser is told each.
                for size, millimetres in PAPER_SIZES_MM.items():
                    with self.subTest(paper=size):
                        on_paper = self.on_paper(page, millimetres)
                        self.assertLessEqual(on_paper.pages, 2)
                        self.check_words(on_paper, millimetres)
                        if name != "hard texts":
                            self.check_nothing_missing(on_paper)


class Lesson(PaperCase):
    def setUp(self):
        super().setUp()
        if not offers("lesson", "--format", "html"):
            self.skipTest("the program has no lesson --format html")

    def test_pages(self):
        jobs = sorted(glob.glob("examples/lesson-*.json", root_dir=SOURCE))
        self.assertGreaterEqual(len(jobs), 3)  # easy, lined, opposite sides
        for job_path, blanks in itertools.product(jobs, ([], ["--blanks"])):
            with self.subTest(job=job_path, blanks=blanks):
                page = self.printed("lesson", job_path, "--format", "html", *blanks)
                self.check_harmless(page)
                self.check_phone(page)
                for size, millimetres in PAPER_SIZES_MM.items():
                    with self.subTest(paper=size):
                        on_paper = self.on_paper(page, millimetres)
                        self.check_words(on_paper, millimetres)
                        self.check_nothing_missing(on_paper)


if __name__ == "__main__":
    PROGRAM, SOURCE = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]], verbosity=2)
