"""Changes the program in one place at a time, and looks whether a test turns red.

python tests/mutation.py --count 400 [--seed 1] [--room strength] [--map FILE] [--log FILE]
python tests/mutation.py --again LOG        # only those that a log lists as not noticed

Constants, signs and comparisons in `strength`, `checks`, `mechanics` and `geometry` are drawn at random;
text, annotations and the sizes of caches are left out. First each test runs once by itself, and the functions
that it enters are noted (the map; make it anew when tests have changed). For a change inside a function those
tests of its room and of `validation` run that enter it, those of files that import from its module first,
each time the quickest first, until one is red; each change in a process of its own, with a limit of time
(what never ends is noticed too). A constant outside any function is tried on a copy of the tree, by the
tests that enter its module or one that imports from it. What no test notices is listed, with its place.

With all tests some hundred changes take hours. `--longest 2 --budget 6` is a first look, of about twenty a
minute; `--again` tries what that missed with all of them. It needs `fork`, and is no part of the tests.
"""

import argparse
import ast
import gc
import os
import pickle
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Generator, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache, partial
from importlib import import_module
from itertools import accumulate
from pathlib import Path
from types import CodeType, FrameType, FunctionType
from typing import TypeVar

import pytest
from _pytest import runner as pytest_runner
from hypothesis import Phase, settings

ROOT = Path(__file__).parent.parent
ROOMS = ("strength", "checks", "mechanics", "geometry")
COPIED = ("rampdraft", "tests", "samples", "docs", "pyproject.toml", "setup.py", "README.md", "DEVELOPERS.md")
MEMORY_BYTES = 6 * 2**30
BROKEN = 70  # a child that fell over by a fault of this script
MISSED = "NOT NOTICED"
T = TypeVar("T")
SIGNS: dict[type[ast.AST], str] = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*"}
SIDES: dict[type[ast.AST], str] = {
    ast.Lt: ">=", ast.LtE: ">", ast.Gt: "<=", ast.GtE: "<", ast.Eq: "!=", ast.NotEq: "==",
}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """One change: what stands between two places of a file becomes something else. `function` is the
    outermost one around it, if any.
    """

    path: str
    line: int
    start: int
    end: int
    old: str
    new: str
    function: str

    @property
    def words(self) -> str:
        return f"{self.path}:{self.line}:{self.start} {self.old.strip()} -> {self.new.strip()}"

    @property
    def source(self) -> bytes:
        raw = (ROOT / self.path).read_bytes()
        return raw[: self.start] + self.new.encode() + raw[self.end :]


# What can be changed
# --------------------------------------------------------------------------------------


def mutants(path: Path) -> Iterator[Mutant]:
    """Yield every change of a file that this script knows."""
    raw = path.read_bytes()
    starts = [0]
    for line in raw.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))

    for node, function in nodes(ast.parse(raw)):

        def change(start: int, end: int, new: str, line: int, function: str = function) -> Mutant:
            return Mutant(
                str(path.relative_to(ROOT)), line, start, end, raw[start:end].decode(), new, function
            )

        def at(line: int, column: int) -> int:
            return starts[line - 1] + column

        match node:
            case ast.Constant(value=bool()):
                pass
            case ast.Constant(
                value=int() | float() as value, end_lineno=int(last), end_col_offset=int(column)
            ):
                new = repr(value + 1 if isinstance(value, int) else value * 1.1 + 0.01)
                yield change(at(node.lineno, node.col_offset), at(last, column), new, node.lineno)
            case ast.BinOp(left=left, op=op, right=right):
                if type(op) in SIGNS and not any(is_text(term) for term in (left, right)):
                    yield from _between(change, at, raw, left, right, SIGNS[type(op)])
            case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in SIDES:
                yield from _between(change, at, raw, left, right, SIDES[type(op)])
            case _:
                pass


def nodes(node: ast.AST, function: str = "", above: tuple[str, ...] = ()) -> Iterator[tuple[ast.AST, str]]:
    """Yield each node that can change a result, with the outermost function whose body holds it."""
    yield node, function
    for field, value in ast.iter_fields(node):
        inside, deeper = function, above
        if isinstance(node, ast.FunctionDef) and field == "body" and not function:
            inside = ".".join((*above, node.name))
        elif isinstance(node, ast.ClassDef) and field == "body":
            deeper = (*above, node.name)
        for child in value if isinstance(value, list) else [value]:
            text = isinstance(child, ast.JoinedStr) or field in ("annotation", "returns")
            kept = isinstance(child, ast.keyword) and child.arg == "maxsize"  # how much a cache keeps
            if isinstance(child, ast.AST) and not text and not kept:
                yield from nodes(child, inside, deeper)


def is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str | bytes)
    )


def _between(
    change: Callable[..., Mutant],
    at: Callable[..., int],
    raw: bytes,
    left: ast.expr,
    right: ast.expr,
    new: str,
) -> Iterator[Mutant]:
    """Yield the change of the sign that stands between two terms; brackets beside it are left as they are."""
    start = at(left.end_lineno, left.end_col_offset)
    between = raw[start : at(right.lineno, right.col_offset)].decode()
    bare = between.strip("() \n\t")
    if bare and all(letter in "+-*/<>=!" for letter in bare):
        offset = start + len(between[: between.index(bare)].encode())
        yield change(offset, offset + len(bare), new, raw.count(b"\n", 0, offset) + 1)


def drawn(rooms: tuple[str, ...], seed: int, skip: int, count: int) -> list[Mutant]:
    """Return so many changes, each equally likely, after as many others."""
    files = [path for room in rooms for path in sorted((ROOT / "rampdraft" / room).rglob("*.py"))]
    every = [mutant for path in files for mutant in mutants(path)]
    print(f"{len(every)} places in {len(files)} files")
    return random.Random(seed).sample(every, len(every))[skip : skip + count]


def missed_by(log: Path) -> list[Mutant]:
    """Return the changes that a log lists as not noticed, or that a file names alone."""
    words = {line.rpartition(MISSED)[2].strip() for line in log.read_text().splitlines() if MISSED in line}
    files = [ROOT / name for name in sorted({one.partition(":")[0] for one in words})]
    return [mutant for path in files for mutant in mutants(path) if mutant.words in words]


# Which tests to run
# --------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Run:
    """What one test took, alone, and what of the program it entered: (path, function)."""

    seconds: float
    entered: frozenset[tuple[str, str]]


Outside = dict[str, frozenset[tuple[str, str]]]
"""What the tests of a file enter before any of them runs; by "" what the program and all helpers do."""


def seen(code: CodeType) -> tuple[str, str]:
    path, function = code.co_filename.removeprefix(f"{ROOT}/"), code.co_qualname.partition(".<locals>")[0]
    return sys.intern(path), sys.intern(function)


@cache
def importing() -> dict[str, frozenset[str]]:
    """Return the files of program and tests that import from each module, by its path, itself too."""
    found: dict[str, set[str]] = {}
    for file in (file for folder in ("rampdraft", "tests") for file in (ROOT / folder).rglob("*.py")):
        here = str(file.relative_to(ROOT))
        found.setdefault(here, set()).add(here)
        for node in ast.walk(ast.parse(file.read_bytes())):
            if isinstance(node, ast.ImportFrom) and node.module:
                for name in (node.module, *(f"{node.module}.{one.name}" for one in node.names)):
                    found.setdefault(f"{name.replace('.', '/')}.py", set()).add(here)
    return {path: frozenset(files) for path, files in found.items()}


def tests_for(mutant: Mutant, runs: dict[str, Run], outside: Outside) -> tuple[list[str], list[str]]:
    """Return the tests of its room and of `validation` that may notice a change, those of files that import
    from its module first, each quickest first: those that can do with another function in the loaded program,
    and those that must load it afresh.
    """
    room, place = Path(mutant.path).parts[1], (mutant.path, mutant.function)
    loaded, afresh = list[str](), list[str]()
    near = importing()[mutant.path]
    around = near if not mutant.function else frozenset[str]()
    for name in sorted(runs, key=lambda one: (one.partition("::")[0] not in near, runs[one].seconds)):
        file, entered = name.partition("::")[0], runs[name].entered
        if not name.startswith((f"tests/{room}/", "tests/validation/")):
            continue
        if place in outside[""] or place in outside.get(file, ()):
            afresh.append(name)
        elif place in entered:
            loaded.append(name)
        elif file in around or around & {path for path, _ in entered}:
            afresh.append(name)
    return loaded, afresh


# How a change is tried
# --------------------------------------------------------------------------------------


def limit(seconds: float) -> None:
    """Let this process have so much time of the processor, and no more memory than is sensible."""
    most = int(min(seconds, 1e6)) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (most, most + 5))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))


def apart(work: Callable[[], int]) -> int:
    """Return what the work says, done in a process of its own that begins as this one is; 1 if it died."""
    child = os.fork()
    if child:
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        assert code != BROKEN, "see above"
        return code if code >= 0 else 1
    code = BROKEN
    try:
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        code = work()
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(code)


class Trial:
    """A plugin of pytest: once all tests are at hand, it makes the map and tries the changes."""

    def __init__(self, given: argparse.Namespace, chosen: list[Mutant]) -> None:
        self.given = given
        self.chosen = chosen
        self.outside: Outside = {}
        self.missed: list[Mutant] = []

    def pytest_sessionstart(self) -> None:
        """Load the program and what the tests share; no red test is made smaller first."""
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutation", settings.default, phases=phases, report_multiple_bugs=False)
        settings.load_profile("mutation")
        rooms = [path for room in ROOMS for path in (ROOT / "rampdraft" / room).rglob("*.py")]
        names = [".".join(path.relative_to(ROOT).with_suffix("").parts) for path in rooms]
        helpers = {path.stem for path in (ROOT / "tests").glob("*.py")} - {"conftest", Path(__file__).stem}
        with self.noting(""):
            for name in (*names, *sorted(one for one in helpers if not one.startswith(("test_", "make_")))):
                import_module(name)

    @pytest.hookimpl(wrapper=True)
    def pytest_make_collect_report(self, collector: pytest.Collector) -> Generator[None, T, T]:
        with self.noting(collector.nodeid):
            return (yield)

    @contextmanager
    def noting(self, what: str) -> Iterator[None]:
        """Note what of the program is entered meanwhile."""
        codes: dict[int, CodeType] = {}

        def note(frame: FrameType, event: str, arg: object) -> None:
            codes[id(frame.f_code)] = frame.f_code

        sys.settrace(note)
        yield
        sys.settrace(None)
        program = str(ROOT / "rampdraft")
        self.outside[what] = frozenset(
            seen(code) for code in codes.values() if code.co_filename.startswith(program)
        )

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.items = {item.nodeid: item for item in session.items}
        self.functions: dict[tuple[str, str], list[FunctionType]] = {}
        program = str(ROOT / "rampdraft")
        for one in gc.get_objects():
            if hasattr(type(one), "cache_clear"):
                one.cache_clear()
            elif isinstance(one, FunctionType) and one.__code__.co_filename.startswith(program):
                self.functions.setdefault(seen(one.__code__), []).append(one)
        gc.freeze()
        runs = self.map()
        for number, mutant in enumerate(self.chosen, start=1):
            names, afresh = (self.within(some, runs) for some in tests_for(mutant, runs, self.outside))
            count, start = len(names) + len(afresh), time.monotonic()
            allowed = 20 + 5 * sum(runs[one].seconds for one in (*names, *afresh))
            red = bool(
                (names and apart(partial(self.tried, mutant, names, allowed)))
                or (afresh and on_a_copy(mutant, afresh, allowed))
            )
            if not red:
                self.missed.append(mutant)
            told = f"{number}/{len(self.chosen)} of {count} tests, {time.monotonic() - start:.0f} s:"
            say(self.given.log, f"{told} {'red' if red else MISSED} {mutant.words}")
        return True

    def within(self, names: list[str], runs: dict[str, Run]) -> list[str]:
        """Return those tests that are not too long, one by one and in all."""
        short = [one for one in names if runs[one].seconds <= self.given.longest]
        ends = accumulate(runs[one].seconds for one in short)
        return [one for one, end in zip(short, ends, strict=True) if end <= self.given.budget]

    def map(self) -> dict[str, Run]:
        """Return what each test enters, from the file as far as it knows."""
        file: Path = self.given.map or Path(tempfile.mkdtemp()) / "map"
        runs: dict[str, Run] = pickle.loads(file.read_bytes()) if file.exists() else {}
        known = {place: place for run in runs.values() for place in run.entered}
        for name in [one for one in self.items if one not in runs]:
            with tempfile.TemporaryDirectory() as folder:
                told = Path(folder) / "run"
                if apart(partial(self.alone, name, told)):
                    print(f"left out, since red without any change or too long: {name}")
                else:
                    run: Run = pickle.loads(told.read_bytes())
                    places = frozenset(known.setdefault(place, place) for place in run.entered)
                    runs[name] = Run(run.seconds, places)
            file.write_bytes(pickle.dumps(runs))
        return {name: runs[name] for name in self.items.keys() & runs.keys()}

    def alone(self, name: str, told: Path) -> int:
        limit(5 * self.given.longest)  # noting what is entered takes time too
        start = time.process_time()
        with self.noting(name):
            red = self.red([name])
        told.write_bytes(pickle.dumps(Run(time.process_time() - start, self.outside[name])))
        return red

    def red(self, names: list[str]) -> int:
        items = [self.items[name] for name in names]
        for item, after in zip(items, [*items[1:], None], strict=True):
            reports = pytest_runner.runtestprotocol(item, nextitem=after, log=False)
            if any(report.failed for report in reports):
                return 1
        return 0

    def tried(self, mutant: Mutant, names: list[str], seconds: float) -> int:
        """Put the changed function in the place of the one that is loaded, and run the tests."""
        place = (mutant.path, mutant.function)
        changed = [
            code
            for code in codes_of(compile(mutant.source, str(ROOT / mutant.path), "exec"))
            if seen(code) == place and "<locals>" not in code.co_qualname
        ]
        loaded = self.functions[place]
        for one in loaded:
            (one.__code__,) = [code for code in changed if code.co_firstlineno == one.__code__.co_firstlineno]
        assert loaded, place
        limit(seconds)
        return self.red(names)


def codes_of(code: CodeType) -> Iterator[CodeType]:
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield one
            yield from codes_of(one)


def on_a_copy(mutant: Mutant, names: list[str], seconds: float) -> bool:
    """Return whether one of these tests turns red on a copy of the tree, loaded afresh."""
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder)
        for name in COPIED:
            source = ROOT / name
            if source.is_dir():
                shutil.copytree(source, tree / name, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(source, tree / name)
        (tree / mutant.path).write_bytes(mutant.source)
        command = [sys.executable, "-m", "pytest", "-x", "-q", "--tb=no", "-p", "no:cacheprovider", *names]
        done = subprocess.run(
            command,
            cwd=tree,
            capture_output=True,
            check=False,
            env={**os.environ, "PYTHONPATH": str(tree)},
            preexec_fn=lambda: limit(seconds),
        )
        return done.returncode != 0


def say(log: Path | None, text: str) -> None:
    print(text, flush=True)
    if log:
        with log.open("a") as file:
            print(text, file=file)


def main() -> None:
    """Draw changes, try each, and tell what no test noticed."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--count", type=int, default=400)
    parser.add_argument("--skip", type=int, default=0, help="so many of those drawn are left out first")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--room", choices=ROOMS, action="append")
    parser.add_argument("--again", type=Path, help="a log: try those again that it lists as not noticed")
    parser.add_argument("--map", type=Path, help="keep there what each test enters, for the next time")
    parser.add_argument("--log", type=Path, help="what comes out is appended here too")
    parser.add_argument("--longest", type=float, default=1e9, help="tests of more seconds are left out")
    parser.add_argument("--budget", type=float, default=1e9, help="and so are those beyond so many seconds")
    given = parser.parse_args()
    os.environ |= {"QT_QPA_PLATFORM": "offscreen", "OPENBLAS_NUM_THREADS": "1"}
    os.chdir(ROOT)
    if given.again:
        chosen = missed_by(given.again)
    else:
        chosen = drawn(tuple(given.room or ROOMS), given.seed, given.skip, given.count)
    trial = Trial(given, chosen)
    tests = [f"tests/{room}" for room in (*ROOMS, "validation")]
    if pytest.main(["-s", "-q", "--tb=line", "-p", "no:cacheprovider", *tests], plugins=[trial]):
        sys.exit("the tests could not be gathered")
    share = 1 - len(trial.missed) / max(len(chosen), 1)
    say(given.log, f"{share:.1%} of {len(chosen)} turned a test red")


if __name__ == "__main__":
    main()
