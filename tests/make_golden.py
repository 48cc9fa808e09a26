"""Writes tests/golden/*.json again: what is told of the samples now. Look at the difference first."""

import json
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "golden")]

from told import golden_of, told_of  # noqa: E402

from rampdraft.files.samples import sample_paths  # noqa: E402

for path in sample_paths():
    lines = json.dumps(told_of(path.stem), ensure_ascii=False, indent=0, separators=(",", ":"))
    golden_of(path.stem).write_text(lines + "\n", encoding="utf-8")
