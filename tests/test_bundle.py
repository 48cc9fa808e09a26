"""The folder that holds the program with its Python: made, and started with nothing else installed."""

import json
import os
import subprocess
from pathlib import Path

import pytest
from make_bundle import bundle

from rampdraft import __version__
from rampdraft.files.samples import sample_paths


@pytest.mark.soak
def test_the_bundle_runs_without_an_installation(tmp_path: Path) -> None:
    """Some minutes, and an index of packages to install from."""
    bundle(tmp_path / "made")
    moved = (tmp_path / "made").rename(tmp_path / "moved elsewhere")
    program = next(moved.glob("rampdraft*"))
    bare = {"HOME": str(tmp_path), "PATH": os.defpath, "QT_QPA_PLATFORM": "offscreen"}

    def said(*arguments: str) -> str:
        return subprocess.run(
            [program, *arguments], env=bare, check=True, capture_output=True, text=True
        ).stdout

    assert said("--version").strip() == f"rampdraft {__version__}"
    told = json.loads(said("check", str(sample_paths()[0]), "--json"))
    assert told["checks"]
    orchard = next(path for path in sample_paths() if path.stem == "orchard-trolley")
    said("propose", str(orchard), "--to", str(tmp_path / "ramps"))
    assert (tmp_path / "ramps" / "proposal-1.toml").is_file()
    assert "files" in said("demo", "--no-window", "--to", str(tmp_path / "pack"))
    assert next((tmp_path / "pack").glob("*.pdf")).read_bytes().startswith(b"%PDF-")
