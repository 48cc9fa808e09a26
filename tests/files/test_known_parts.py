"""What the program is made of is known: every package with its licence."""

import re
import tomllib
from pathlib import Path

from rampdraft.files.known_parts import known_parts

PROJECT = tomllib.loads((Path(__file__).parent.parent.parent / "pyproject.toml").read_text(encoding="utf-8"))


def test_every_package_that_the_program_needs_is_named_with_its_licence() -> None:
    parts = {one.name.lower().replace("_", "-"): one for one in known_parts()}
    wanted = {re.match(r"[\w.-]+", text)[0].lower() for text in PROJECT["project"]["dependencies"]}
    assert wanted - {"tomlkit", "pypdfium2"} <= set(parts), "but what an older installation did not list yet"
    assert {"shiboken6", "pillow"} <= set(parts), "and what those need"
    assert not {"pytest", "rampdraft", "ruff"} & set(parts)
    for part in parts.values():
        assert re.match(r"\d", part.version)
        assert part.licence
        assert "\n" not in part.licence
    assert parts["numpy"].licence.startswith("BSD")
    assert parts["ezdxf"].licence.startswith("MIT")
    assert "LGPL" in parts["pyside6-essentials"].licence
