"""What the program says: every English sentence that stands in a call of `say` or `counted`, by room."""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2] / "rampdraft"
ROOMS = ["errors", *sorted(path.parent.name for path in ROOT.glob("*/__init__.py"))]
_SAID_BY = {"say": slice(0, 1), "counted": slice(1, 3)}


def said_in(room: str) -> dict[str, str]:
    """Return each sentence of a room with the module that says it, in the order of modules and lines."""
    found: dict[str, str] = {}
    for path in sorted((ROOT / room).rglob("*.py")) or [(ROOT / room).with_suffix(".py")]:
        for text in _said_by(ast.parse(path.read_text(encoding="utf-8"))):
            found.setdefault(text, str(path.relative_to(ROOT)))
    return found


def _said_by(module: ast.Module) -> Iterator[str]:
    constants = {
        target.id: node.value.value
        for node in module.body
        if isinstance(node, ast.Assign | ast.AnnAssign) and isinstance(node.value, ast.Constant)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name) and isinstance(node.value.value, str)
    }
    for node in ast.walk(module):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            meaning = _meaning(node)
            for argument in node.args[_SAID_BY.get(node.func.id, slice(0, 0))]:
                whole = not isinstance(argument, ast.IfExp)
                for one in (argument,) if whole else (argument.body, argument.orelse):
                    match one:
                        case ast.Constant(value=str() as text):
                            yield text + meaning
                        case ast.Name(id=constant) if constant in constants:
                            yield constants[constant] + meaning
                        case _:
                            pass


def _meaning(call: ast.Call) -> str:
    """Return what tells this word from others that are alike in English, as the files of a language do."""
    match call:
        case ast.Call(func=ast.Name(id="say"), args=[_, ast.Constant(value=str() as meaning)]):
            return f" [{meaning}]"
        case _:
            return ""
