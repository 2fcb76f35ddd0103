"""Roles that screen readers announce for widgets of our own, which Qt would call "client"."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QAccessibleWidget, QWidget


def install_spoken_roles() -> None:
    """Have each widget announced by the role that its `spoken_role` names.

    The attribute is set on a class, or on one widget before it is shown. Name, description and
    children stay those that Qt reads from the widget.
    """
    QAccessible.installFactory(_interface_of)


def _interface_of(_class_name: str, subject: QObject | None) -> QAccessibleWidget | None:
    role = getattr(subject, "spoken_role", None)
    if isinstance(subject, QWidget) and isinstance(role, QAccessible.Role):
        return QAccessibleWidget(subject, role)
    return None
