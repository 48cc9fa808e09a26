"""The house rules that no other tool holds: Qt only under app, short modules with a docstring, honest
words.
"""

import ast
import re
import subprocess
import sys
import tokenize
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from rampdraft.cli.screen import DEBIAN_PACKAGES

ROOT = Path(__file__).parent.parent
MODULES = sorted((ROOT / "rampdraft").rglob("*.py"))
NAMES = [str(path.relative_to(ROOT)) for path in MODULES]
TEXT_FILES = [
    *MODULES,
    *(
        path
        for pattern in ("*.toml", "*.svg")
        for folder in ("rampdraft", "samples")
        for path in (ROOT / folder).rglob(pattern)
    ),
    ROOT / "README.md",
    ROOT / "DEVELOPERS.md",
]


def dotted(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def loaded_by(program: str) -> set[str]:
    """Return the modules that a fresh Python has loaded at the end of `program`."""
    code = f"{program}\nimport sys; print('\\n'.join(sys.modules), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False
    )
    assert "sys" in done.stderr.splitlines(), done.stderr
    return set(done.stderr.splitlines())


def is_qt(name: str) -> bool:
    return name.partition(".")[0] in ("PySide6", "shiboken6")


def test_everything_but_app_loads_without_qt() -> None:
    rooms = [dotted(path) for path in MODULES if (ROOT / "rampdraft" / "app") not in path.parents]
    assert "rampdraft.cli.main" in rooms
    assert "rampdraft.export.json_report" in rooms
    loaded = loaded_by("\n".join(f"import {name}" for name in rooms))
    assert set(rooms) <= loaded
    assert not [name for name in loaded if is_qt(name)]


def test_the_check_for_qt_sees_qt() -> None:
    assert [name for name in loaded_by("import PySide6.QtCore") if is_qt(name)]


def test_opening_the_command_line_loads_no_export_format() -> None:
    """The window shares this way in, and its start is measured (tests/bench)."""
    loaded = loaded_by("import rampdraft.__main__, rampdraft.cli.main")
    assert not {"ezdxf", "reportlab"} & loaded


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_a_module_is_short_and_says_what_it_is(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 500, "split it: a module has 500 lines at most"
    assert ast.get_docstring(ast.parse(text)), "a module begins with a docstring"


REASONED = re.compile(r"# (long|many): \w")
"""How a function says, on its line or the one above it, why it is `long` or has `many` parameters."""


def too_much(text: str) -> list[str]:
    """Return the functions of a module with more than 50 lines, docstring and all, or more than 7 parameters
    besides `self` and `cls`, and no reason beside them.
    """
    lines, found = text.splitlines(), list[str]()
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        first = min([node.lineno, *(part.lineno for part in node.decorator_list)])
        given = node.args
        names = [one.arg for one in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
        count = len(names) - (names[:1] in (["self"], ["cls"]))
        excuse = f"{lines[first - 2] if first > 1 else ''}\n{lines[node.lineno - 1]}"
        told = {match[1] for match in REASONED.finditer(excuse)}
        long = (node.end_lineno or 0) - node.lineno + 1 > 50 and "long" not in told
        if long or (count > 7 and "many" not in told):
            found.append(node.name)
    return found


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_a_function_is_short_and_takes_little_or_says_why(path: Path) -> None:
    found = too_much(path.read_text(encoding="utf-8"))
    assert not found, "split it by what it says, or write the reason beside it: `# long:`, `# many:`"


def test_the_look_at_functions_sees_what_is_too_much() -> None:
    def of(lines: int, names: str, above: str = "", beside: str = "") -> str:
        return f"{above}\ndef f({names}):{beside}\n" + "    x = 1\n" * (lines - 1)

    seven, eight = "a, b, c, d, /, e, *, f, g", "a, b, c, d, /, e, *, f, g, h"
    assert too_much(of(50, seven)) == too_much(of(50, f"self, {seven}")) == []
    assert too_much(of(51, "")) == too_much(of(2, eight)) == ["f"]
    assert too_much(of(51, "", "# long: a table")) == too_much(of(51, "", beside="  # long: a table")) == []
    assert too_much(of(51, "", "# long: a table\n@cache")) == []
    assert too_much(of(51, "", "# many: a table")) == too_much(of(51, eight, "# long: a table")) == ["f"]
    assert too_much(of(51, "", "# long:")) == ["f"]


PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
ROOMS = {
    dotted(path) for pattern in ("*.py", "*/__init__.py") for path in (ROOT / "rampdraft").glob(pattern)
} - {
    "rampdraft",
    "rampdraft.__main__",
}


def test_only_the_window_is_exempt_from_strict_types() -> None:
    strict = {entry.replace("/", ".") for entry in PROJECT["tool"]["pyright"]["strict"]}
    modules = {name for name in ROOMS if (ROOT / name.replace(".", "/")).with_suffix(".py").is_file()}
    assert strict == (ROOMS - modules - {"rampdraft.app"}) | {"rampdraft.*.py"}


def test_the_import_contracts_name_every_room() -> None:
    """The layers are exhaustive by themselves (import-linter sees to it); the two other contracts list their
    sources.
    """
    _, without_qt, without_formats = PROJECT["tool"]["importlinter"]["contracts"]
    assert set(without_qt["source_modules"]) == ROOMS - {"rampdraft.app"}
    assert set(without_formats["source_modules"]) == ROOMS - {"rampdraft.export"}


def imports_of(path: Path) -> Iterator[str]:
    """Yield the modules that a module imports names from."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module is not None:
            yield node.module


def test_the_classes_of_a_design_are_imported_one_way() -> None:
    """From `model.design`, which has them all by name, wherever in the room each is declared."""
    door = ROOT / "rampdraft" / "model" / "design.py"
    declared = {name for name in imports_of(door) if name.rpartition(".")[0] == "rampdraft.model"}
    assert {"rampdraft.model.leaves", "rampdraft.model.site"} <= declared
    others = [path for path in (*MODULES, *(ROOT / "tests").rglob("*.py")) if path != door]
    assert not [path for path in others if declared.intersection(imports_of(path))]


def strings_of(path: Path) -> list[str]:
    """Return the string constants of a module that are no docstring: what may reach a person."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    # A bare string is a docstring of a module, class, function or field.
    bare = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in bare
    ]


SAFE = re.compile(r"\b(un)?(safe(ly)?|safety(?! factor))\b", re.IGNORECASE)
"""But for the field's term: a safety factor."""


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_no_result_says_safe(path: Path) -> None:
    assert not [text for text in strings_of(path) if SAFE.search(text)]


def test_data_and_pages_promise_no_safety() -> None:
    for path in TEXT_FILES:
        if path.suffix in (".toml", ".svg", ".md"):
            lines = path.read_text(encoding="utf-8").splitlines()
            # The title of a published standard or label may hold the word; a verdict may not.
            told = [
                line
                for line in lines
                if SAFE.search(line) and "never says" not in line and "publication" not in line
            ]
            assert not told, path


def test_the_search_for_the_word_finds_it(tmp_path: Path) -> None:
    module = tmp_path / "m.py"
    module.write_text(
        '"""Never says safe."""\n\nX = f"the ramp is {1} Safe"\nY = "safety factor 2"\nZ = "safety"\n',
        encoding="utf-8",
    )
    assert [text for text in strings_of(module) if SAFE.search(text)] == ["safety", " Safe"]


MARKS = re.compile(r"\b(TODO|FIXME|XXX|HACK|coming soon|not yet implemented)\b")


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_nothing_is_left_for_later(path: Path) -> None:
    with tokenize.open(path) as file:
        assert not MARKS.search(file.read())
    tree = ast.parse(path.read_text(encoding="utf-8"))
    empty = [
        node.name
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef)
        and "overload" not in map(ast.unparse, node.decorator_list)
        and all(
            isinstance(step, ast.Pass)
            or (isinstance(step, ast.Expr) and isinstance(step.value, ast.Constant))
            for step in node.body
        )
        and not any(
            isinstance(base, ast.ClassDef) and "Protocol" in ast.unparse(base) and node in base.body
            for base in ast.walk(tree)
        )
    ]
    assert not empty, "a function without a body"


def test_the_system_libraries_are_named_alike_everywhere() -> None:
    script = (ROOT / "tests" / "run.sh").read_text(encoding="utf-8")
    found = re.search(r'^qt_packages="([^"]+)"$', script, re.MULTILINE)
    assert found is not None
    assert found[1].split() == DEBIAN_PACKAGES.split()[:6]
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert [name for name in DEBIAN_PACKAGES.split() if name not in readme] == []
