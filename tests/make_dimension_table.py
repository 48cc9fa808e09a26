"""Writes docs/dimensions.md again from the field records: `python tests/make_dimension_table.py`."""

import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT))

from rampdraft.files.design_names import file_name  # noqa: E402
from rampdraft.model.design import Design  # noqa: E402
from rampdraft.model.fields.paths import GROUP_LABELS, FieldInfo, fields_of  # noqa: E402
from rampdraft.model.fields.record import Choice, Dim  # noqa: E402

PAGE = ROOT / "docs" / "dimensions.md"

HEAD = """# Every value of a design

Made from the field records that also drive the form, the file and its error messages
(`python tests/make_dimension_table.py`). The letter is the one on the drawing.
"""


def page() -> str:
    """Return the page: a table for each group of the form, which is a table of the file."""
    return HEAD + "".join(_group(info, "") for info in fields_of(Design))


def _group(info: FieldInfo, prefix: str) -> str:
    cls = info.group or info.rows
    assert cls is not None
    path = f"{prefix}{file_name(info)}"
    brackets = f"[[{path}]]" if info.rows else f"[{path}]"
    fields = fields_of(cls)
    plain = "".join(_row(field) for field in fields if field.record is not None)
    inner = "".join(_group(field, f"{path}.") for field in fields if field.record is None)
    head = "\n| value | letter | key | range | what it is |\n| --- | --- | --- | --- | --- |\n"
    return f"\n## {GROUP_LABELS[info.name]}: `{brackets}`\n{head}{plain}{inner}"


def _row(info: FieldInfo) -> str:
    record = info.record
    assert record is not None
    letter = record.letter if isinstance(record, Dim) else ""
    left_out = "" if info.required else " May be left out."
    cells = (record.label, letter, f"`{info.name}`", " ".join(_range(info)), f"{record.help}{left_out}")
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |\n"


def _range(info: FieldInfo) -> Iterator[str]:
    record = info.record
    if isinstance(record, Dim):
        yield f"{record.low:g} to {record.high:g} {record.unit}".rstrip()
        if info.many:
            yield "each"
    if isinstance(record, Choice):
        yield ", ".join(
            f"`{word}` ({words})" if word != words else f"`{word}`" for word, words in record.options
        )


if __name__ == "__main__":
    PAGE.parent.mkdir(exist_ok=True)
    PAGE.write_text(page(), encoding="utf-8")
