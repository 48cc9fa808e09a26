"""Draws the pictures of the pages again: `python tests/make_pictures.py` writes samples/*.svg,
docs/solid.svg, docs/moving.svg and docs/window.png.
"""

import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT))

from moving_picture import moving_svg  # noqa: E402

from rampdraft.drawing.ink import Picture  # noqa: E402
from rampdraft.drawing.side import side_view  # noqa: E402
from rampdraft.drawing.solid.camera import Camera  # noqa: E402
from rampdraft.drawing.solid.riders import rider  # noqa: E402
from rampdraft.drawing.solid.scene import Solid, Stand  # noqa: E402
from rampdraft.evaluation.evaluate import Evaluation, evaluate  # noqa: E402
from rampdraft.export.svg import picture_svg  # noqa: E402
from rampdraft.files.design_file import load_design  # noqa: E402
from rampdraft.files.samples import sample_paths, samples_folder  # noqa: E402
from rampdraft.mechanics.folding.clearance import clashing_at  # noqa: E402
from rampdraft.mechanics.rolled import AlongSite  # noqa: E402
from rampdraft.mechanics.rolling.surfaces import Surfaces  # noqa: E402
from rampdraft.model.fields.paths import with_value  # noqa: E402
from rampdraft.model.rolling_shape import shape_of  # noqa: E402


def sample_picture(evaluation: Evaluation) -> Picture:
    """Return the ramp put down at its first site, or in the pose where it clashes most."""
    design, site, tightest = evaluation.design, evaluation.sites[0], evaluation.fold.clearance.tightest
    if tightest.clearance_mm < 0:
        clashing = clashing_at(design, evaluation.assembly, tightest.pose, design.sites[0])
        return side_view(
            evaluation, pose=tightest.pose, drop_mm=0.0, nearest=tightest, clashing=clashing, frame="pose"
        )
    return side_view(evaluation, pose=site.pose, drop_mm=0.0, flap_rad=site.flap_rad, frame="pose")


def solid_picture(evaluation: Evaluation) -> Picture:
    """Return the ramp as a solid with its first user on it, half way up."""
    design, site = evaluation.design, evaluation.sites[0]
    along = AlongSite(design, 1, site, Surfaces(design, evaluation.assembly, site), "deck")
    on_it = rider(shape_of(design.use.users[0]), "use.users[1]", along.at(0.4 * site.whole.going_mm))
    stand = Stand(pose=site.pose, drop_mm=site.drop_mm)
    return Solid(evaluation).picture(stand, Camera(), on_it=on_it)


def without_bridge(path: Path) -> Evaluation:
    """Return a sample without its bridge plate, which turns by a law of its own, by contact."""
    return evaluate(with_value(load_design(path), "bridge.fitted", False), path.parent)


def window_picture(sample: Path, target: Path) -> None:
    """Save a picture of the window with a sample in it, without a screen."""
    with tempfile.TemporaryDirectory() as home:
        os.environ |= {
            "QT_QPA_PLATFORM": "offscreen",
            "HOME": home,
            "XDG_CONFIG_HOME": home,
            "XDG_DATA_HOME": home,
        }
        from PySide6.QtCore import QTimer
        from PySide6.QtWidgets import QApplication

        from rampdraft.app.shell import settings
        from rampdraft.app.shell.main import application, run
        from rampdraft.app.shell.window import Window

        def window() -> Window:
            return next(one for one in QApplication.topLevelWidgets() if isinstance(one, Window))

        def look() -> None:
            """Save it once all is worked out, rolling too."""
            desk = window().desk
            judged = desk.document.judged if desk is not None and desk.document.whole else None
            if judged is None or not judged.stands(Evaluation.rolled):
                return
            watch.stop()
            window().resize(1440, 900)
            QTimer.singleShot(500, save)

        def save() -> None:
            window().statusBar().clearMessage()  # it names the folder that the sample was opened from
            target.parent.mkdir(exist_ok=True)
            window().grab().save(str(target))
            window().close_unasked()

        application()
        settings.remember_tour_seen()
        watch = QTimer(interval=200)
        watch.timeout.connect(look)
        watch.start()
        run(sample)


def main() -> None:
    for path in sample_paths():
        evaluation = evaluate(load_design(path), path.parent)
        path.with_suffix(".svg").write_text(picture_svg(sample_picture(evaluation)), encoding="utf-8")
    trailer = samples_folder() / "library-trailer.toml"
    solid = picture_svg(solid_picture(evaluate(load_design(trailer), trailer.parent)), width_mm=160.0)
    (ROOT / "docs" / "solid.svg").write_text(solid, encoding="utf-8")
    (ROOT / "docs" / "moving.svg").write_text(moving_svg(without_bridge(trailer)), encoding="utf-8")
    window_picture(trailer, ROOT / "docs" / "window.png")


if __name__ == "__main__":
    main()
