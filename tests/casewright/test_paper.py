"""The paper of a whole build read back: book, rod and templates of the small cabinet."""

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from pypdf import PdfReader

from tests.helpers.examples import BEDSIDE, piece, spec
from tests.helpers.pdf_lines import segments
from tests.helpers.repository import ROOT

pytestmark = [pytest.mark.kernel, pytest.mark.slow]

ONLY = "plan-book.pdf,templates.pdf,rod.pdf,rod.dxf"


def build(out: Path, **around: str) -> Path:
    command = [sys.executable, "-m", "casewright", "build", f"examples/{BEDSIDE}.yaml"]
    done = subprocess.run(
        [*command, "--out", str(out), "--only", ONLY],
        cwd=ROOT,
        env=os.environ | around,
        check=False,
        capture_output=True,
        text=True,
        timeout=280,
    )
    assert done.returncode in (0, 1), done.stderr
    return out


@pytest.fixture(scope="module")
def package(tmp_path_factory) -> Path:
    return build(tmp_path_factory.mktemp("paper") / "out", PYTHONHASHSEED="1")


@pytest.fixture(scope="module")
def book(package) -> PdfReader:
    return PdfReader(io.BytesIO((package / "plan-book.pdf").read_bytes()))


@pytest.fixture(scope="module")
def record(package):
    return json.loads((package / "build.json").read_text())


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def heads(outline) -> list[str]:
    return [entry.title for entry in outline if not isinstance(entry, list)]


def test_the_book_has_every_label_and_every_step(book, record):
    text = words(book)
    for part in piece(BEDSIDE).parts:
        if part.made:
            assert f"{part.label}" in text
            assert part.name.split()[0] in text
    for step in record["steps"]:
        assert " ".join(step["title"].split()) in text


def test_the_book_opens_with_the_piece_and_then_what_there_is_to_say(book, record):
    first, second = (" ".join(book.pages[n].extract_text().split()) for n in (0, 1))
    assert spec(BEDSIDE).name in first
    assert "Read this first" in second
    for found in record["findings"][:3]:
        assert found["code"] in second


def test_the_book_has_bookmarks_in_the_order_of_the_work(book):
    found = heads(book.outline)
    order = ["Read this first", "Contents", "What you need", "Cut list", "Drilling", "Assembly"]
    places = [found.index(name) for name in order]
    assert places == sorted(places)


def test_every_part_made_has_a_sheet_on_its_own_paper(book):
    made = [part for part in piece(BEDSIDE).parts if part.made]
    wide = [page for page in book.pages if page.mediabox.width > page.mediabox.height]
    assert len(wide) >= len(made)


def test_fonts_are_in_the_file(book):
    for page in book.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            (inner,) = font.get_object()["/DescendantFonts"]
            described = inner.get_object()["/FontDescriptor"].get_object()
            assert "/FontFile2" in described or "/FontFile3" in described


def test_the_record_has_the_steps_and_lists_the_paper(record):
    assert {file["path"] for file in record["files"]} == set(ONLY.split(","))
    assert record["steps"][0]["order"] == 1


def test_the_rod_is_true_to_size_and_labelled(package):
    document = ezdxf.readfile(package / "rod.dxf")
    assert not document.audit().errors
    said = " ".join(text.dxf.text for text in document.modelspace().query("TEXT"))
    cut = {part.label for part in piece(BEDSIDE).parts if part.name in ("top", "bottom", "back")}
    assert cut <= set(said.replace(",", " ").split())
    ends = {
        round(abs(line.dxf.end.x - line.dxf.start.x), 3)
        for line in document.modelspace().query("LINE")
    }
    for part in piece(BEDSIDE).parts:
        if part.name in ("back", "drawer front"):
            assert any(abs(end - part.blank.length) < 0.001 for end in ends), part.name


def test_rolls_and_leaves_show_the_same_lines(package):
    reader = PdfReader(io.BytesIO((package / "rod.pdf").read_bytes()))
    rolls = [page for page in reader.pages if page.mediabox.width > 1500]
    assert rolls
    for page in rolls:
        lengths = {round(abs(a[0] - b[0]), 2) for a, b in segments(page)}
        assert 100.0 in lengths


def test_the_same_spec_gives_the_same_paper(package, tmp_path):
    again = build(tmp_path / "again", PYTHONHASHSEED="77", TZ="Pacific/Chatham")
    for name in ONLY.split(","):
        assert (package / name).read_bytes() == (again / name).read_bytes(), name
