"""The window: three areas side by side, and what the menus do with the document."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QLabel, QMainWindow, QSplitter, QTabWidget, QVBoxLayout, QWidget

from rampdraft.app import settings
from rampdraft.app.actions import Actions
from rampdraft.app.dialogs import Answer, Dialogs
from rampdraft.app.document import Document
from rampdraft.app.export_pack import PackExport
from rampdraft.app.naming import Naming
from rampdraft.app.panels.checks import ChecksPanel
from rampdraft.app.panels.dimensions import DimensionsPanel
from rampdraft.app.panels.pieces import PiecesPanel
from rampdraft.app.panels.plan import PlanPanel
from rampdraft.app.panels.side import SidePanel
from rampdraft.checks.cautions import CAUTIONS
from rampdraft.checks.result import Check
from rampdraft.errors import FileError

AREAS: Final = ((350, 285, 1), (700, 300, 2), (350, 255, 1))
"""Width at first, least width and share of a wider window, of each area."""


class Window(QMainWindow):
    """Shows one document."""

    def __init__(self) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        self.setAcceptDrops(True)
        self.dialogs = Dialogs(self)
        self.document = Document(self)
        self.naming = Naming(self.document)
        self.pack = PackExport(self)
        self.form = DimensionsPanel(self.document, self)
        self.side = SidePanel(self.document, self)
        self.plan = PlanPanel(self.document, self)
        self.pieces = PiecesPanel(self.document, self)
        self.checks = ChecksPanel(self.document, self)
        self.views = QTabWidget(self)
        self.views.setDocumentMode(True)
        for panel, name in ((self.side, "Side"), (self.plan, "Plan"), (self.pieces, "Pieces")):
            self.views.addTab(panel, name)
        self._areas = QSplitter(Qt.Orientation.Horizontal, self)
        self._areas.setHandleWidth(1)
        self._areas.setChildrenCollapsible(False)
        shown = (_area("Dimensions", self.form), self.views, _area("Checks", self.checks))
        for number, (area, (_, least, share)) in enumerate(zip(shown, AREAS, strict=True)):
            area.setMinimumWidth(least)
            self._areas.addWidget(area)
            self._areas.setStretchFactor(number, share)
        self._areas.setSizes([first for first, _, _ in AREAS])
        self.setCentralWidget(self._areas)
        self.statusBar().setSizeGripEnabled(False)
        self.actions_ = Actions(self)
        self._wire()
        self._restore_layout()
        self._retitle()

    # What the actions need to know

    @property
    def view_names(self) -> tuple[str, ...]:
        """Return the names of the views."""
        return tuple(self.views.tabText(at) for at in range(self.views.count()))

    @property
    def areas(self) -> tuple[tuple[str, QWidget], ...]:
        """Return the areas with the widget that takes the cursor in each."""
        return (("Dimensions", self.form), ("Drawing", self.views), ("Checks", self.checks.list))

    def _wire(self) -> None:
        document = self.document
        document.renamed.connect(self._retitle)
        document.changed.connect(self._retitle)
        document.undo_stack.cleanChanged.connect(self._retitle)
        self.checks.chose.connect(self._show_check)
        self.pieces.chose.connect(self._light)
        self.form.entered.connect(self._light_field)
        for canvas in (self.side.canvas, self.plan.canvas):
            canvas.pointed.connect(self._point)
            canvas.picked.connect(self._pick)

    # Files

    def start_with(self, path: Path | None) -> Callable[[], None]:
        """Return what to do once the window stands: open a file, or begin a new design."""
        return _Start(self, path)

    def new(self) -> None:
        """Begin a new design."""
        if self._may_leave():
            self.begin()

    def begin(self) -> None:
        """Take the starter design into hand."""
        from rampdraft.model.starter import starter_design

        self.document.open(starter_design(), None)

    def open(self) -> None:
        """Ask for a file and open it."""
        if self._may_leave():
            path = self.dialogs.file_to_open()
            if path is not None:
                self._load(path)

    def open_path(self, path: Path) -> None:
        """Open a file, after asking about unsaved changes."""
        if self._may_leave():
            self._load(path)

    def open_sample(self, path: Path) -> None:
        """Open a sample as a new design: the sample itself stays as it is."""
        if self._may_leave():
            self._load(path, keep=False)

    def _load(self, path: Path, *, keep: bool = True) -> bool:
        from rampdraft.files.design_file import load_design

        try:
            design = load_design(path, consistent=False)
        except FileError as wrong:
            self.dialogs.problems("This file cannot be opened", str(wrong).partition("\n")[0], wrong.problems)
            return False
        self.document.open(design, path if keep else None, path.parent)
        if keep:
            settings.remember_file(path)
        self.statusBar().showMessage(f"Opened {path}" if keep else f"A copy of the sample {path.stem}", 6000)
        return True

    def save(self) -> bool:
        """Save in the document's file, or ask for one; return whether it is saved."""
        if self.document.path is None:
            return self.save_as()
        return self._save_in(self.document.path)

    def save_as(self) -> bool:
        """Ask for a file and save in it; return whether it is saved."""
        if self.document.design is None:
            return False
        path = self.dialogs.file_to_save(f"{file_stem(self.document.title)}.toml")
        return path is not None and self._save_in(path)

    def _save_in(self, path: Path) -> bool:
        from rampdraft.files.design_file import save_design

        if self.document.design is None:
            return False
        try:
            save_design(self.document.design, path)
        except FileError as wrong:
            self.dialogs.problems("Not saved", str(wrong).partition("\n")[0], wrong.problems)
            return False
        self.document.saved(path)
        settings.remember_file(path)
        left_out = len(self.document.refused)
        note = f"; {left_out} text marked in the form is no value and not in the file" if left_out else ""
        self.statusBar().showMessage(f"Saved {path}{note}", 8000)
        return True

    def export(self) -> None:
        """Write the workshop pack of the design in hand."""
        if self.document.stale or self.document.evaluation is None:
            words = "The workshop pack is written from figures that are true of the design in hand. Mend these values first."
            self.dialogs.problems("Nothing to export yet", words, self.document.problems)
            return
        folder = self.dialogs.folder_for_pack()
        if folder is not None:
            self.pack.start(self.document.evaluation, folder)

    def _may_leave(self) -> bool:
        """Return whether the document may be put away, after asking about changes."""
        if not self.document.modified:
            return True
        match self.dialogs.unsaved(self.document.title):
            case Answer.SAVE:
                return self.save()
            case Answer.DISCARD:
                return True
            case _:
                return False

    # Views

    def show_view(self, number: int) -> None:
        """Show a view, counted from 0."""
        self.views.setCurrentIndex(number)

    def go_to_area(self, area: QWidget) -> None:
        """Put the cursor in an area."""
        area.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if area.focusPolicy() == Qt.FocusPolicy.NoFocus:
            area.focusNextChild()

    def go_to_problem(self) -> None:
        """Put the cursor on the first value that can't be."""
        if self.document.problems:
            self.form.reveal(self.document.problems[0].key)

    def fit(self) -> None:
        """Show the whole drawing."""
        for canvas in (self.side.canvas, self.plan.canvas):
            canvas.fit()

    def about(self) -> None:
        """Tell what this is, and the cautions."""
        from rampdraft import __version__

        self.dialogs.told("About Rampdraft", "\n\n".join((f"Rampdraft {__version__}: two-section folding ramps.", *CAUTIONS)))

    def tell_failure(self, message: str, details: str) -> None:
        """Tell of a fault of the program, and save if that is wanted."""
        if self.dialogs.failure(message, details):
            self.save_as()

    def _point(self, key: str) -> None:
        self.statusBar().showMessage(self.naming.words(key))

    def _pick(self, key: str) -> None:
        if key and self.naming.is_field(key):
            self.form.reveal(key)
        else:
            self._light(frozenset((key,) if key else ()))

    def _light(self, owners: frozenset[str]) -> None:
        for canvas in (self.side.canvas, self.plan.canvas):
            canvas.light(owners)

    def _light_field(self, path: str) -> None:
        self._light(frozenset((path,)))

    def _show_check(self, check: Check | None) -> None:
        """Show on the drawing what a check speaks of."""
        self._light(frozenset((check.member,) if check is not None and check.member else ()))
        if check is None:
            return
        if check.share is not None:
            self.side.show_share(check.share)
        elif check.site_number:
            self.side.show_site(check.site_number, "loaded" if "loaded" in check.subject else "empty")

    def _retitle(self) -> None:
        self.setWindowTitle(f"{self.document.title or 'Rampdraft'}[*]")
        self.setWindowModified(self.document.modified)

    # The window itself

    def _restore_layout(self) -> None:
        geometry, areas = settings.state("geometry"), settings.state("areas")
        if geometry is None or not self.restoreGeometry(geometry):
            room = self.screen().availableGeometry()
            self.resize(min(1400, room.width() - 60), min(900, room.height() - 80))
        if areas is not None:
            self._areas.restoreState(areas)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files."""
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the file that was dropped."""
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        if paths:
            self.open_path(paths[0])

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved changes, remember the layout, and wait for the work at hand."""
        if not self._may_leave():
            event.ignore()
            return
        self.side.fold_bar.pause()
        settings.remember_state("geometry", self.saveGeometry())
        settings.remember_state("areas", self._areas.saveState())
        self.pack.close()
        event.accept()

    def close_unasked(self) -> None:
        """Close without asking, for a window that was shown for a time only."""
        self.document.undo_stack.setClean()
        self.close()
        QCoreApplication.quit()


class _Start:
    """Opens a file or begins a new design, once."""

    def __init__(self, window: Window, path: Path | None) -> None:
        self._window, self._path = window, path

    def __call__(self) -> None:
        if self._path is None or not self._window._load(self._path):
            self._window.begin()


def _area(title: str, panel: QWidget) -> QWidget:
    area = QWidget()
    heading = QLabel(title, area)
    heading.setProperty("role", "area")
    column = QVBoxLayout(area)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    column.addWidget(heading)
    column.addWidget(panel, 1)
    return area


def file_stem(name: str) -> str:
    """Return a name that every file system takes, from words a person typed."""
    kept = "".join(sign if sign.isalnum() or sign in "-_ " else " " for sign in name.removesuffix(".toml"))
    return "-".join(kept.split())[:60].lower() or "ramp"
