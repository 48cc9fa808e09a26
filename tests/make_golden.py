"""Writes tests/golden/*.json again: what is told of the samples now. Look at the difference first."""

import json
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "golden")]

from told import golden_of, told_of  # noqa: E402

from rampdraft.files.samples import sample_paths  # noqa: E402

for sample in sample_paths():
    with tempfile.TemporaryDirectory() as folder:
        told = told_of(sample, Path(folder))
    lines = json.dumps(told, ensure_ascii=False, indent=0, separators=(",", ":"))
    golden_of(sample).write_text(lines + "\n", encoding="utf-8")
