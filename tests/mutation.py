"""Changes the program in one place at a time, and looks whether a test turns red.

python tests/mutation.py --count 400 [--seed 1] [--processes 2] [--room strength]

Constants, signs and comparisons in `strength`, `checks`, `mechanics` and `geometry` are drawn at random.
For each one the tests of its room and those of `validation` run on a copy of the tree, until one is red.
What no test notices is listed, with its place. It takes hours: it is no part of the tests themselves.
"""

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent
ROOMS = ("strength", "checks", "mechanics", "geometry")
COPIED = ("rampdraft", "tests", "samples", "docs", "pyproject.toml", "setup.py", "README.md", "DEVELOPERS.md")
LONGEST_S = 900
SIGNS: dict[type[ast.AST], str] = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*"}
SIDES: dict[type[ast.AST], str] = {
    ast.Lt: ">=", ast.LtE: ">", ast.Gt: "<=", ast.GtE: "<", ast.Eq: "!=", ast.NotEq: "==",
}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """One change: what stands between two places of a file becomes something else."""

    path: Path
    line: int
    start: int
    end: int
    old: str
    new: str

    @property
    def words(self) -> str:
        return f"{self.path.relative_to(ROOT)}:{self.line}: {self.old.strip()} -> {self.new.strip()}"


def mutants(path: Path) -> Iterator[Mutant]:
    """Yield every change of a file that this script knows."""
    source = path.read_text(encoding="utf-8")
    starts = [0]
    for line in source.splitlines(keepends=True):
        starts.append(starts[-1] + len(line.encode()))
    raw = source.encode()

    def at(line: int | None, column: int | None) -> int:
        assert line is not None
        assert column is not None
        return starts[line - 1] + column

    def change(line: int, start: int, end: int, new: str) -> Mutant:
        return Mutant(path, line, start, end, raw[start:end].decode(), new)

    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Constant(value=bool()):
                pass
            case ast.Constant(value=int() | float() as value):
                start, end = at(node.lineno, node.col_offset), at(node.end_lineno, node.end_col_offset)
                yield change(
                    node.lineno, start, end, repr(value + 1 if isinstance(value, int) else value * 1.1 + 0.01)
                )
            case ast.BinOp(left=left, op=op, right=right) if type(op) in SIGNS:
                yield from _between(change, at, raw, left, right, SIGNS[type(op)])
            case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in SIDES:
                yield from _between(change, at, raw, left, right, SIDES[type(op)])
            case _:
                pass


def _between(change, at, raw: bytes, left: ast.expr, right: ast.expr, new: str) -> Iterator[Mutant]:
    """Yield the change of the sign that stands between two terms; brackets beside it are left as they are."""
    start = at(left.end_lineno, left.end_col_offset)
    end = at(right.lineno, right.col_offset)
    between = raw[start:end].decode()
    bare = between.strip("() \n\t")
    if bare and all(letter in "+-*/<>=!" for letter in bare):
        offset = start + between.index(bare)
        yield change(left.end_lineno, offset, offset + len(bare), new)


def drawn(count: int, seed: int, rooms: tuple[str, ...]) -> list[Mutant]:
    """Return so many changes, each equally likely."""
    files = [path for room in rooms for path in sorted((ROOT / "rampdraft" / room).rglob("*.py"))]
    every = [mutant for path in files for mutant in mutants(path)]
    print(f"{len(every)} places in {len(files)} files")
    return random.Random(seed).sample(every, min(count, len(every)))


def noticed(mutant: Mutant) -> bool:
    """Return whether a test turns red; one that never ends is noticed too."""
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder)
        for name in COPIED:
            source = ROOT / name
            if source.is_dir():
                shutil.copytree(source, tree / name, ignore=shutil.ignore_patterns("__pycache__"))
            elif source.exists():
                shutil.copy(source, tree / name)
        target = tree / mutant.path.relative_to(ROOT)
        raw = target.read_bytes()
        target.write_bytes(raw[: mutant.start] + mutant.new.encode() + raw[mutant.end :])
        room = mutant.path.relative_to(ROOT / "rampdraft").parts[0]
        tests = [one for one in (f"tests/{room}", "tests/validation") if (tree / one).exists()]
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
        try:
            done = subprocess.run(
                command,
                cwd=tree,
                timeout=LONGEST_S,
                capture_output=True,
                check=False,
                env={**os.environ, "PYTHONPATH": str(tree)},
            )
        except subprocess.TimeoutExpired:
            return True
        return done.returncode != 0


def main() -> None:
    """Draw changes, try each, and tell what no test noticed."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--count", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--room", choices=ROOMS, action="append")
    given = parser.parse_args()
    chosen = drawn(given.count, given.seed, tuple(given.room or ROOMS))
    missed: list[Mutant] = []
    with ThreadPoolExecutor(given.processes) as pool:
        for number, (mutant, red) in enumerate(zip(chosen, pool.map(noticed, chosen), strict=True), start=1):
            print(f"{number}/{len(chosen)} {'red' if red else 'NOT NOTICED'} {mutant.words}", flush=True)
            if not red:
                missed.append(mutant)
    share = 1 - len(missed) / len(chosen)
    print(f"{share:.1%} of {len(chosen)} turned a test red; not noticed:")
    for mutant in missed:
        print(" ", mutant.words)


if __name__ == "__main__":
    main()
