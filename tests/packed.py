"""The packs of the samples, each made once in a process: what several tests read."""

import atexit
import shutil
import tempfile
from functools import cache
from pathlib import Path

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pack import write_pack
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder

DATE = "2000-01-01"


@cache
def sample(name: str) -> Evaluation:
    path = samples_folder() / f"{name}.toml"
    return evaluate(load_design(path), path.parent)


@cache
def packed(name: str) -> Path:
    """Return the folder with the pack of a sample, to be read and not to be changed."""
    folder = Path(tempfile.mkdtemp(prefix="rampdraft-pack-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    write_pack(sample(name), folder, date=DATE)
    return folder
