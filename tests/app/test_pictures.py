"""A view copied, and saved as a picture."""

import io
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from stand_in import answers

from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.picture_work import SHARPER


def test_the_view_in_front_is_copied(desk: Desk) -> None:
    QApplication.clipboard().clear()
    desk.picture_work.copy()
    pixels = QApplication.clipboard().pixmap()
    canvas = desk.side.canvas
    assert (pixels.width(), pixels.height()) == (SHARPER * canvas.width(), SHARPER * canvas.height())
    seen = pixels.toImage()
    colours = {seen.pixel(x, y) for x in range(0, seen.width(), 5) for y in range(0, seen.height(), 5)}
    assert len(colours) > 5


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_the_view_is_saved_in_the_format_of_its_ending(desk: Desk, tmp_path: Path, ending: str) -> None:
    answers(desk).save_path = path = tmp_path / f"side.{ending}"
    desk.picture_work.save()
    data = path.read_bytes()
    if ending == "png":
        assert QImage.fromData(data).width() == SHARPER * desk.side.canvas.width()
    elif ending == "svg":
        assert ET.fromstring(data).tag.endswith("svg")
    else:
        (page,) = PdfReader(io.BytesIO(data)).pages
        assert "aid to a competent person" in page.extract_text()


def test_another_ending_is_told_and_nothing_written(desk: Desk, tmp_path: Path) -> None:
    answers(desk).save_path = path = tmp_path / "side.gif"
    desk.picture_work.save()
    assert "'side.gif' ends in none of" in answers(desk).said[-1][1]
    assert not path.exists()


def test_a_view_that_is_not_of_the_ramp_in_hand_is_not_saved(desk: Desk, tmp_path: Path) -> None:
    answers(desk).save_path = path = tmp_path / "side.png"
    desk.document.edit("inner_leaf.length_mm", 20.0, "Change")
    desk.picture_work.save()
    assert "last good ramp" in answers(desk).said[-1][1]
    assert not path.exists()
