"""Names of users as file names."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.export.file_names import LONGEST_BYTES, safe_stem


@pytest.mark.parametrize(
    ("text", "stem"),
    [
        ("Library trailer", "Library-trailer"),
        ("Bac à roseaux", "Bac-à-roseaux"),
        ("渡し船", "渡し船"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\Windows\\x", "C-Windows-x"),
        ("／／host／share", "host-share"),
        (".hidden", "hidden"),
        ("name.", "name"),
        ("a\0b\nc", "a-b-c"),
        ("R1_b", "R1_b"),
        ("\u202egpj.exe", "gpj-exe"),
        ("", "ramp"),
        ("   ", "ramp"),
        ("...", "ramp"),
        ("_", "ramp"),
        ("😀", "ramp"),
        ("\u0301", "ramp"),
        ("CON", "ramp-CON"),
        ("con.txt", "con-txt"),
        ("lpt¹", "ramp-lpt1"),
        ("-rf", "rf"),
    ],
)
def test_stems(text, stem):
    assert safe_stem(text) == stem


def test_what_stands_in_for_an_empty_name_can_be_chosen():
    assert safe_stem("?", "part") == "part"


def test_a_cut_falls_between_letters():
    stem = safe_stem("é" * 200)
    assert stem == "é" * (LONGEST_BYTES // 2)


@given(st.text(max_size=300))
def test_no_text_makes_a_harmful_name(text):
    stem = safe_stem(text)
    assert stem
    assert len(stem.encode("utf-8")) <= LONGEST_BYTES + len("ramp-")
    assert not set(stem) & set('/\\:*?"<>|.\0 \n\r\t')
    assert not stem.startswith("-")
    assert stem.isprintable()
    assert safe_stem(stem) in (stem, f"ramp-{stem}")
