"""Where the sample designs lie: inside the installed package, or beside it in a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def samples_folder() -> Path:
    """Return the folder of the sample designs; `rules` in it holds a rule file that one of them names."""
    installed = _PACKAGE / "samples"
    return installed if installed.is_dir() else _PACKAGE.parent / "samples"


def sample_paths() -> tuple[Path, ...]:
    """Return the sample designs, by name."""
    return tuple(sorted(samples_folder().glob("*.toml")))
