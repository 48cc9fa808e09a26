"""What `pip install .` brings: every module, sample, rule file and font, by way of the source archive as
well.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from rampdraft.files.samples import sample_paths, samples_folder

ROOT = Path(__file__).parent.parent.parent
BUILD = (
    "import sys; from setuptools import build_meta; print(getattr(build_meta, 'build_' +"
    " sys.argv[1])(sys.argv[2]))"
)


def build(kind: str, source: Path, target: Path) -> Path:
    done = subprocess.run(
        [sys.executable, "-c", BUILD, kind, str(target)],
        cwd=source,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return target / done.stdout.splitlines()[-1]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the source archive of a clean copy, a wheel from that archive, and return the wheel's folder
    unpacked.
    """
    pytest.importorskip(
        "setuptools",
        minversion="77",
        reason="building needs setuptools 77 or newer: install the extra `test`",
    )
    folder = tmp_path_factory.mktemp("packaging")
    source = folder / "source"
    source.mkdir()
    for name in ("pyproject.toml", "setup.py", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    for name in ("rampdraft", "samples"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.unpack_archive(build("sdist", source, folder), folder / "unpacked")
    (unpacked,) = (folder / "unpacked").iterdir()
    shutil.unpack_archive(build("wheel", unpacked, folder), folder / "installed", format="zip")
    return folder / "installed"


def files_in(folder: Path) -> set[Path]:
    return {
        path.relative_to(folder)
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }


def test_nothing_of_the_package_is_left_behind(installed: Path) -> None:
    package = {
        path
        for path in files_in(ROOT / "rampdraft")
        if path.suffix in (".py", ".toml", ".ttf", ".txt", ".typed")
    }
    assert len(package) > 50
    assert package <= files_in(installed / "rampdraft")


def test_the_samples_come_along(installed: Path) -> None:
    samples = {path for path in files_in(ROOT / "samples") if path.suffix == ".toml"}
    assert samples == {
        path for path in files_in(installed / "rampdraft" / "samples") if path.suffix == ".toml"
    }


def test_the_installed_program_finds_them(installed: Path, tmp_path: Path) -> None:
    code = "from rampdraft.files.samples import sample_paths; print(*sample_paths(), sep='\\n')"
    environment = {**os.environ, "PYTHONPATH": str(installed)}
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    found = [Path(line) for line in done.stdout.splitlines()]
    assert [path.name for path in found] == [path.name for path in sample_paths()]
    assert {path.parent for path in found} == {installed / "rampdraft" / "samples"}


def test_a_checkout_finds_the_samples_at_its_top() -> None:
    assert samples_folder() == ROOT / "samples"
    assert len(sample_paths()) >= 5
