"""`requirements.txt` holds what pyproject.toml asks for, on every Python, and both commands install that."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from make_lock import LOCK, PYTHONS
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from install import FOR_THE_TESTS, locked

ROOT = Path(__file__).parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
PROGRAM = [*PROJECT["project"]["dependencies"], *PROJECT["build-system"]["requires"]]
TESTS = PROJECT["project"]["optional-dependencies"]["test"]
MACHINES = [("linux", "x86_64"), ("linux", "aarch64"), ("darwin", "arm64"), ("win32", "AMD64")]
ENVIRONMENTS = [
    pytest.param(
        {
            "python_version": python,
            "python_full_version": f"{python}.0",
            "sys_platform": system,
            "platform_machine": machine,
        },
        id=f"{python}-{system}-{machine}",
    )
    for python in PYTHONS
    for system, machine in MACHINES
]


def entries(text: str) -> Iterator[tuple[Requirement, list[str]]]:
    """Yield each requirement of a lock with its hashes."""
    logical = re.sub(r"\s*\\\n\s*", " ", re.sub(r"^\s*#.*\n", "", text, flags=re.MULTILINE))
    for line in logical.splitlines():
        if line and not line.startswith("--"):
            requirement, *hashes = line.split(" --hash=")
            yield Requirement(requirement), hashes


def versions(text: str, environment: dict[str, str]) -> dict[str, str]:
    """Return which version of which package a lock gives in an environment; each may stand there once."""
    found: dict[str, str] = {}
    for requirement, _ in entries(text):
        if requirement.marker is None or requirement.marker.evaluate(environment):
            (pin,) = requirement.specifier
            name = canonicalize_name(requirement.name)
            assert name not in found
            assert pin.operator == "=="
            found[name] = pin.version
    return found


def unmet(asked: list[str], given: dict[str, str], environment: dict[str, str]) -> list[str]:
    """Return what is asked for in an environment and not given in a version that will do."""
    missing: list[str] = []
    for text in asked:
        requirement = Requirement(text)
        if requirement.marker is None or requirement.marker.evaluate(environment):
            version = given.get(canonicalize_name(requirement.name))
            if version is None or not requirement.specifier.contains(version):
                missing.append(text)
    return missing


@pytest.mark.parametrize("environment", ENVIRONMENTS)
def test_the_lock_holds_what_the_project_asks_for(environment: dict[str, str]) -> None:
    program, whole = (versions(locked(tests), environment) for tests in (False, True))
    again = "run: python3 tests/make_lock.py"
    assert unmet(PROGRAM, program, environment) == [], again
    assert unmet(TESTS, whole, environment) == [], again
    assert "pytest" not in program


def test_what_is_not_held_is_seen() -> None:
    python_311 = {"python_version": "3.11", "python_full_version": "3.11.0"}
    asked = ["a>=2", "b!=3; python_version < '3.12'", "b; python_version >= '3.12'", "c"]
    given = versions("a==2 \\\n    --hash=sha256:00\nb==3 ; python_full_version < '3.12'\n", python_311)
    assert given == {"a": "2", "b": "3"}
    assert unmet(asked, given, python_311) == ["b!=3; python_version < '3.12'", "c"]


def test_every_entry_has_its_hashes_and_is_a_wheel_from_no_place_in_particular() -> None:
    text = LOCK.read_text(encoding="utf-8")
    assert [str(entry) for entry, hashes in entries(text) if not hashes] == []
    assert all(re.fullmatch("sha256:[0-9a-f]{64}", each) for _, hashes in entries(text) for each in hashes)
    assert re.findall("^-.*", text, re.MULTILINE) == ["--only-binary :all:"]
    assert "://" not in text
    assert text.count(FOR_THE_TESTS) == 1


def test_both_commands_install_from_it() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    first, second = re.findall("```sh\n(.*)\n```", readme)[:2]
    assert first == "python3 -m venv .venv && .venv/bin/python install.py && .venv/bin/rampdraft demo"
    assert second == "sh tests/run.sh"
    script = (ROOT / "tests" / "run.sh").read_text(encoding="utf-8")
    assert '"$python" install.py --tests\n' in script
    assert "pip install" not in script
