"""Menus and their actions, with their keys."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from rampdraft.app import looks, speech
from rampdraft.app.shell import settings
from rampdraft.checks.steps import STEPS
from rampdraft.words.manner import LENGTHS
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk

Keys = QKeySequence.StandardKey
T = TypeVar("T")


class Actions(QObject):
    """Builds the menu bar of a window and keeps its lists up to date."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._filing = desk.filing
        bar = desk.window.menuBar()
        self._fill_file(bar.addMenu(say("&File")), desk)
        self._fill_edit(bar.addMenu(say("&Edit")), desk)
        self._fill_steps(bar.addMenu(say("&Steps")), desk)
        self._fill_view(bar.addMenu(say("&View")), desk)
        self._fill_fold(bar.addMenu(say("F&old")), desk)
        helping = bar.addMenu(say("&Help"))
        self._add(helping, say("&Tour of the window"), desk.tour_work.begin)
        self._add(helping, say("&About and cautions"), desk.about)

    def _fill_file(self, file: QMenu, desk: "Desk") -> None:
        filing = self._filing
        self._add(file, say("&New"), filing.new, Keys.New)
        self._add(file, say("&Open…"), filing.open, Keys.Open)
        self._recent = file.addMenu(say("Open &recent"))
        self._recent.aboutToShow.connect(self._list_recent)
        self._samples = file.addMenu(say("S&amples"))
        self._samples.aboutToShow.connect(self._list_samples)
        self._add(file, say("S&tart…"), desk.start_work.open)
        file.addSeparator()
        self._add(file, say("&Save"), filing.save, Keys.Save)
        self._add(file, say("Save &as…"), filing.save_as, "Ctrl+Shift+S")
        file.addSeparator()
        self._add(file, say("&Export the workshop pack…"), filing.export, "Ctrl+E")
        self._add(file, say("Save the &view…"), desk.picture_work.save, "Ctrl+Shift+E")
        self._add(file, say("S&heets and print…"), desk.sheet_work.open, Keys.Print)
        file.addSeparator()
        self._add(file, say("&Quit"), desk.window.close, Keys.Quit)

    def _fill_edit(self, edit: QMenu, desk: "Desk") -> None:
        stack = desk.document.undo_stack
        for action, key in (
            (stack.createUndoAction(self, say("&Undo")), Keys.Undo),
            (stack.createRedoAction(self, say("&Redo")), Keys.Redo),
        ):
            action.setShortcuts(key)
            edit.addAction(action)
        edit.addSeparator()
        self._add(edit, say("&Keep this ramp to compare"), desk.keep_ramp, "Ctrl+K")
        self._add(
            edit,
            say("&Edits and differences"),
            _Call(desk.views.setCurrentWidget, desk.compare),
            "Ctrl+Shift+K",
        )
        self._add(edit, say("Copy the &view"), desk.picture_work.copy, "Ctrl+Shift+C")
        edit.addSeparator()
        self._add(edit, say("&Propose ramps…"), desk.propose_work.for_document, "Ctrl+Shift+P")
        self._add(edit, say("I&mprove…"), desk.propose_work.improve, "Ctrl+Shift+I")
        self._add(edit, say("F&ind a value, check or part"), desk.step_work.go_find, Keys.Find)
        self._add(edit, say("First value to &correct"), desk.go_to_problem, "F8")

    def _fill_steps(self, steps: QMenu, desk: "Desk") -> None:
        work = desk.step_work
        for number, step in enumerate(STEPS, start=1):
            self._add(
                steps,
                f"&{number} {step.name}",
                _Call(work.take, step.key),
                f"Alt+{number}",
            )
        self._add(steps, say("&Everything"), _Call(work.take, ""), "Alt+0")
        steps.addSeparator()
        self._add(steps, say("What is needed &next"), work.go_on, "F9")

    def _fill_view(self, view: QMenu, desk: "Desk") -> None:
        for number, (panel, name) in enumerate(desk.views.named, start=1):
            key = f"Ctrl+{number}" if number < 10 else None
            self._add(view, f"&{number} {name}", _Call(desk.views.setCurrentWidget, panel), key)
        view.addSeparator()
        for number, (name, panel) in enumerate(desk.areas, start=1):
            go = _Call(panel.setFocus, Qt.FocusReason.ShortcutFocusReason)
            self._add(view, say("Go to {name}", name=name), go, f"F{number + 1}")
        view.addSeparator()
        self._add(view, say("&Fit the drawing"), desk.fit, "Ctrl+0")
        self._add_switch(view, say("&Details enlarged"), desk.side.show_details, "Ctrl+Shift+D", on=True)
        view.addSeparator()
        words = {"system": say("As the &system"), "light": say("&Light"), "dark": say("&Dark")}
        self._add_choice(
            view.addMenu(say("Light or &dark")),
            [(words[one], one) for one in looks.LOOKS],
            looks.look,
            looks.choose_look,
        )
        self._add_choice(
            view.addMenu(say("&Language")),
            [(say(speech.NAMES[one]), one) for one in speech.TONGUES],
            speech.tongue,
            desk.choose_language,
        )
        self._add_choice(
            view.addMenu(say("Le&ngths")),
            [(say(speech.UNITS[one]), one) for one in LENGTHS],
            speech.lengths,
            desk.choose_lengths,
        )
        sizes = view.addMenu(say("&Text size"))
        each = [(f"{size} %", size) for size in looks.TEXT_SIZES]
        self._add_choice(sizes, each, looks.text_size, looks.choose_text_size)
        sizes.addSeparator()
        self._add(sizes, say("&Larger"), _Call(looks.step_text_size, 1), Keys.ZoomIn)
        self._add(sizes, say("S&maller"), _Call(looks.step_text_size, -1), Keys.ZoomOut)

    def _fill_fold(self, fold: QMenu, desk: "Desk") -> None:
        work = desk.fold_work
        self._add(fold, say("&Play or pause"), desk.play_fold, "Ctrl+Space")
        self._add(fold, say("Go to the &tightest place"), desk.go_tightest, "Ctrl+T")
        fold.addSeparator()
        self._add(fold, say("&Find a way to fold"), work.find, "Ctrl+Shift+F")
        self._add(fold, say("Try the fold at &each site"), work.find_at_sites)
        self._add(fold, say("Use the &usual sequence"), work.use_usual)
        self._add(fold, say("Size the &spring…"), work.size_spring)
        self._add(fold, say("&Let slats fall into gaps…"), work.interleave)
        fold.addSeparator()
        self._add_switch(fold, say("Show s&wept room"), work.show_swept, "Ctrl+Shift+R", on=False)
        self._add_switch(fold, say("Show &hands"), desk.side.show_hands, "Ctrl+Shift+H", on=True)

    def _add(
        self,
        menu: QMenu,
        text: str,
        act: Callable[[], object],
        key: QKeySequence.StandardKey | str | None = None,
    ) -> None:
        action = QAction(text, self)
        if key is not None:
            action.setShortcuts(
                [QKeySequence(key)] if isinstance(key, str) else QKeySequence.keyBindings(key)
            )
        action.triggered.connect(_Call(act))
        menu.addAction(action)

    def _add_switch(
        self, menu: QMenu, text: str, switch: Callable[[bool], object], key: str, *, on: bool
    ) -> None:
        action = QAction(text, self, checkable=True, checked=on, shortcut=QKeySequence(key))
        action.toggled.connect(switch)
        menu.addAction(action)

    def _add_choice(
        self,
        menu: QMenu,
        each: Sequence[tuple[str, T]],
        chosen: Callable[[], T],
        choose: Callable[[T], object],
    ) -> None:
        """Add one action for each of what excludes each other; what is chosen is marked when it opens."""
        group = QActionGroup(menu)
        actions: list[tuple[QAction, T]] = []
        for words, one in each:
            action = QAction(words, group, checkable=True)
            action.triggered.connect(_Call(choose, one))
            menu.addAction(action)
            actions.append((action, one))
        menu.aboutToShow.connect(_Call(_mark, actions, chosen))

    def _list_recent(self) -> None:
        self._list(
            self._recent, settings.recent_files(), self._filing.open_path, say("nothing yet"), whole=True
        )

    def _list_samples(self) -> None:
        from rampdraft.files.samples import sample_paths

        self._list(
            self._samples, sample_paths(), self._filing.open_sample, say("none installed"), whole=False
        )

    def _list(
        self, menu: QMenu, paths: tuple[Path, ...], act: Callable[[Path], object], none: str, *, whole: bool
    ) -> None:
        menu.clear()
        for path in paths:
            words = str(path) if whole else path.stem.replace("-", " ").replace("_", " ").capitalize()
            menu.addAction(words.replace("&", "&&")).triggered.connect(_Call(act, path))
        if not paths:
            menu.addAction(none).setEnabled(False)


def _mark(actions: Sequence[tuple[QAction, T]], chosen: Callable[[], T]) -> None:
    for action, one in actions:
        action.setChecked(one == chosen())


class _Call:
    """Calls with arguments fixed beforehand, whatever the signal brings."""

    def __init__(self, act: Callable[..., object], *arguments: object) -> None:
        self._act: Final = act
        self._arguments: Final = arguments

    def __call__(self, *_: object) -> None:
        self._act(*self._arguments)
