"""Fields: one line or several to type in, with what is wrong shown below."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QCompleter,
    QLineEdit,
    QPlainTextEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.errors import InputError
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.text import Ink, Label, small_label

REST_MS = 1000  # what is typed is saved after so long a rest


class _Column(QWidget):
    """A control with a line below it that says what is wrong, hidden while nothing is."""

    def __init__(self, control: QWidget, name: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self._control = control
        self._name = name
        control.setAccessibleName(name)
        self._trouble = small_label(ink=Ink.RUST).wrapped()
        # In a narrow field it runs over several lines, and takes the height of all of them.
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self._trouble.setSizePolicy(policy)
        self._trouble.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(control)
        column.addWidget(self._trouble)
        self.setFocusProxy(control)
        self._valid: Callable[[str], object] | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)

    def save_at_rest(self, parse: Callable[[str], object] | None = None) -> None:
        """Emit `kept` also after a second without typing, where `parse` raises no InputError."""
        self._valid = parse or str

    def _is_valid(self, text: str) -> bool:
        """Return whether a text is to be kept at rest."""
        if self._valid is None:
            return False
        try:
            self._valid(text)
        except InputError:
            return False
        return True

    def show_trouble(self, error: InputError | None) -> None:
        """Show what is wrong with what was typed; None hides it."""
        wrong = error is not None
        text = "" if error is None else f"{self._name}: {_said(error, self._name)}"
        self._trouble.setText(text)
        self._trouble.setVisible(wrong)
        self._control.setAccessibleDescription(text)
        self._control.setProperty("wrong", wrong)
        style = self._control.style()
        style.unpolish(self._control)
        style.polish(self._control)

    @property
    def trouble(self) -> str:
        """What is wrong, empty if nothing is."""
        return self._trouble.text()


def _said(error: InputError, name: str) -> str:
    """Return an error's words without the name of the field, which stands before them already."""
    return str(error).removeprefix(f"{name}: ").removeprefix(f"{error.subject}: ")


class Field(_Column):
    """One line to type in.

    Signals: `kept(str)` when a person has changed the line and leaves it or presses Enter;
    `typed(str)` at each key. Esc restores what was there.
    """

    kept = Signal(str)
    typed = Signal(str)

    def __init__(
        self, name: str, parent: QWidget | None = None, *, text: str = "", hint: str = ""
    ) -> None:
        self.line = _Line()
        super().__init__(self.line, name, parent)
        self._was = text
        self.line.setText(text)
        self.line.setPlaceholderText(hint)
        self.line.editingFinished.connect(self.commit)
        self._rest.timeout.connect(self._rested)
        self.line.textEdited.connect(lambda _text: self._rest.start())
        # The message stays until someone types again, also after Enter.
        self.line.textEdited.connect(lambda _text: self.show_trouble(None))
        self.line.textEdited.connect(self.typed)
        self.line.restore.connect(self._restore)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @override
    def show_trouble(self, error: InputError | None) -> None:
        super().show_trouble(error)
        # Room for one line of trouble would cut off the others where the field is narrow.
        policy = QSizePolicy.Policy
        self.setSizePolicy(policy.Expanding, policy.Minimum if error is not None else policy.Fixed)

    @property
    def text(self) -> str:
        """The text as it is now."""
        return self.line.text()

    def set_text(self, text: str) -> None:
        """Show a value; ignored while a person is typing something else."""
        if self.line.hasFocus() and self.line.text() != self._was:
            return
        self._was = text
        self.line.setText(text)
        self.show_trouble(None)

    def ignore_esc(self) -> None:
        """Leave Esc to whatever is around the line, where there is nothing to restore."""
        self.line.restores = False

    def commit(self) -> None:
        """Emit `kept` now if a person has changed the text."""
        self._rest.stop()
        if self.line.text() != self._was:
            self._was = self.line.text()
            self.line.setModified(False)
            self.kept.emit(self._was)

    def _rested(self) -> None:
        if self._is_valid(self.text):
            # Not `commit`: what is being typed must not turn into a match of a list.
            Field.commit(self)

    def _restore(self) -> None:
        self.line.setText(self._was)
        self.show_trouble(None)


class _Line(QLineEdit):
    """A line that gives Esc away only when there is nothing to put back."""

    restore = Signal()
    restores = True

    @override
    def setCompleter(self, completer: QCompleter) -> None:
        super().setCompleter(completer)
        popup = completer.popup()
        if popup is not None:
            popup.setObjectName("completions")
            popup.installEventFilter(self)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Esc close the suggestions, and no more than that."""
        if isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape:
            event.accept()
            if event.type() is QEvent.Type.KeyPress and isinstance(watched, QWidget):
                watched.hide()
            return True
        return super().eventFilter(watched, event)

    @override
    def event(self, event: QEvent) -> bool:
        # The window's Esc waits while there is something to restore.
        return (self._has_other() and keeps_esc(event)) or super().event(event)

    def _has_other(self) -> bool:
        return self.restores and self.isModified()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._has_other():
            self.restore.emit()
            self.setModified(False)
            return
        super().keyPressEvent(event)


class TextField(_Column):
    """Several lines to type in.

    Signals: `kept(str)` when a person has changed the text and leaves it; `typed(str)` at each
    change.
    """

    kept = Signal(str)
    typed = Signal(str)

    def __init__(
        self, name: str, parent: QWidget | None = None, *, lines: int = 3, hint: str = ""
    ) -> None:
        self.box = _Box()
        super().__init__(self.box, name, parent)
        self._was = ""
        self.box.setPlaceholderText(hint)
        self.box.setTabChangesFocus(True)
        self.box.setFixedHeight(lines * self.box.fontMetrics().lineSpacing() + 18)
        self.box.left.connect(self.commit)
        self._rest.timeout.connect(self._rested)
        self.box.textChanged.connect(self._rest.start)
        self.box.textChanged.connect(lambda: self.typed.emit(self.text))

    @property
    def text(self) -> str:
        """The text as it is now."""
        return self.box.toPlainText()

    def set_text(self, text: str) -> None:
        """Show a value; ignored while a person is typing something else."""
        if self.box.hasFocus() and self.text != self._was:
            return
        self._was = text
        self.box.setPlainText(text)
        self.show_trouble(None)

    def commit(self) -> None:
        """Emit `kept` now if a person has changed the text."""
        self._rest.stop()
        if self.text != self._was:
            self._was = self.text
            self.show_trouble(None)
            self.kept.emit(self._was)

    def _rested(self) -> None:
        if self._is_valid(self.text):
            self.commit()


class _Box(QPlainTextEdit):
    left = Signal()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self.left.emit()


class LabeledControl(QWidget):
    """A control with its label above, or at its left in a column of its own width."""

    def __init__(
        self, label: str, control: QWidget, parent: QWidget | None = None, *, beside: int = 0
    ) -> None:
        """`beside` is the width in pixels of the label's column; 0 puts it above."""
        super().__init__(parent)
        self._words = words = Label(label, ink=Ink.MUTED) if beside else small_label(label)
        words.setBuddy(control)
        row = QBoxLayout(
            QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom, self
        )
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8 if beside else 4)
        if beside:
            words.setFixedSize(beside, control.sizeHint().height())
            row.addWidget(words, 0, Qt.AlignmentFlag.AlignTop)
        else:
            row.addWidget(words)
        row.addWidget(control, 1)
        # A column that is short of height must not cut the foot off a control.
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def set_label(self, label: str) -> None:
        """Change the label, where the control is now for something else."""
        self._words.setText(label)
