"""What the program tells of each sample: the JSON report, and of the pack its files, tables and pages."""

import json
import re
from pathlib import Path
from typing import Any

import packed
import pypdfium2

from rampdraft.export.json_report import report
from rampdraft.export.revision import revision_of

HERE = Path(__file__).parent
MARK = "REVISION"
"""In the place of the mark of the pack, which is another with every change of a design."""
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def told_of(name: str) -> dict[str, Any]:
    """Return it as plain data."""
    evaluation, folder = packed.sample(name), packed.packed(name)
    mark = revision_of(evaluation)
    files = sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())
    tables = {
        file: (folder / file).read_text(encoding="utf-8").replace(mark, MARK).split("\n")
        for file in files
        if ".csv" in file
    }
    pages = {
        path.name: [
            sorted(page.get_textpage().get_text_range().replace(mark, MARK).splitlines())
            for page in pypdfium2.PdfDocument(path)
        ]
        for path in sorted(folder.glob("*.pdf"))
    }
    found = {"report": report(evaluation), "files": files, "tables": tables, "pages": pages}
    return json.loads(json.dumps(found))


def golden_of(name: str) -> Path:
    return HERE / f"{name}.json"


def apart(one: Any, other: Any, at: str = "") -> list[str]:
    """Return where two tellings differ by more than the rounding of what is printed."""
    if isinstance(one, dict) and isinstance(other, dict):
        keys = [f"{at}: {sorted(one.keys() ^ other.keys())}"] if one.keys() != other.keys() else []
        return [
            *keys,
            *(w for key in one.keys() & other.keys() for w in apart(one[key], other[key], f"{at}.{key}")),
        ]
    if isinstance(one, list) and isinstance(other, list):
        count = [f"{at}: {len(one)} and {len(other)}"] if len(one) != len(other) else []
        pairs = enumerate(zip(one, other, strict=False))
        return [*count, *(w for number, (a, b) in pairs for w in apart(a, b, f"{at}[{number}]"))]
    same = one == other
    if isinstance(one, str) and isinstance(other, str) and not same:
        same = texts_alike(one, other)
    elif isinstance(one, float | int) and isinstance(other, float | int) and not isinstance(one, bool):
        same = abs(one - other) <= 2e-6 + 1e-6 * abs(one)
    return [] if same else [f"{at}: {one!r} and {other!r}"]


def texts_alike(one: str, other: str) -> bool:
    """Return whether texts differ by no more than one in the last digit of a number in them."""
    if NUMBER.sub("#", one) != NUMBER.sub("#", other):
        return False
    pairs = zip(NUMBER.findall(one), NUMBER.findall(other), strict=True)
    return all(abs(float(a) - float(b)) <= 1.01 * 10.0 ** -min(decimals(a), decimals(b)) for a, b in pairs)


def decimals(number: str) -> int:
    return len(number.partition(".")[2])
