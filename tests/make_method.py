"""Writes docs/method.md again from the formula objects: `python tests/make_method.py`."""

import ast
import importlib
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT))

from rampdraft.checks.notes import UNJUDGED  # noqa: E402
from rampdraft.strength.formula import Formula, Worked  # noqa: E402

PAGE = ROOT / "docs" / "method.md"
HEAD = """# How it is worked out

Made from the formulas that compute the checks and print their working (`python tests/make_method.py`): each
with its symbols, its clause where it is published, and what the program says of it. A clause that was written
from memory, and figures that are common practice of the trade, say so. Axes and signs are in DEVELOPERS.md.
"""
ROOMS = {
    "mechanics": "Mechanics",
    "strength": "Strength",
    "checks": "Checks",
}


def page() -> str:
    """Return the page: a section for each module that states formulas, then what is not judged."""
    sections = [section for room in ROOMS for section in _sections(room)]
    left = "".join(f"- {one}\n" for one in UNJUDGED)
    return f"{HEAD}{''.join(sections)}\n## What is not judged\n\n{left}"


def _sections(room: str) -> Iterator[str]:
    for path in sorted((ROOT / "rampdraft" / room).rglob("*.py")):
        module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        tree = ast.parse(path.read_text(encoding="utf-8"))
        found = list(_formulas(module, tree))
        if found:
            about = (ast.get_docstring(tree) or "").split("\n\n")[0].replace("\n", " ")
            yield f"\n## {ROOMS[room]}: {path.stem.replace('_', ' ')}\n\n{about}\n\n{''.join(found)}"


def _formulas(module: str, tree: ast.Module) -> Iterator[str]:
    after = dict(zip(tree.body, tree.body[1:], strict=False))
    for node in tree.body:
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            value = getattr(importlib.import_module(module), node.target.id)
            if isinstance(value, Formula):
                yield _entry(value, _doc(after.get(node)))


def _doc(node: ast.stmt | None) -> str:
    """Return the text that stands under an assignment."""
    match node:
        case ast.Expr(ast.Constant(str() as text)):
            return " ".join(text.split())
        case _:
            return ""


def _entry(formula: Formula, about: str) -> str:
    written = Worked(formula, (), 0.0).symbols
    unit = formula.result(1.0).lstrip("1.0 ").strip() or "no unit"
    clause = f"; {formula.clause}" if formula.clause else ""
    text = f" {about}" if about else ""
    return f"- `{written}` ({unit}{clause}).{text}\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
