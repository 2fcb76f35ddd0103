"""Tables, columns and stored codes by the words that the program uses everywhere.

The history's stored rows change too, so that an edit made before this revision can still be
undone or redone after it.
"""

from __future__ import annotations

from collections.abc import Mapping

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_TABLES = {"sign": "evidence", "measurement": "dimension", "stored_file": "original"}
# Columns by the table's new name, old name to new.
_COLUMNS: Mapping[str, Mapping[str, str]] = {
    "pin": {"sign_id": "evidence_id"},
    "tool": {
        "state": "status",
        "defects_looked_at": "defects_inspected",
        "lacks_finished": "no_finished_photograph",
        "lacks_date": "not_dated",
        "lacks_measure": "not_measured",
        "disagrees": "parts_disagree",
    },
    "defect": {"told": "disclosed", "why_not_told": "why_not_disclosed"},
    "work": {"told": "disclosed"},
    "original": {"looks_like": "perceptual_hash"},
    "photograph": {"filed_why": "filed_reason", "suggested": "suggested_stock_number"},
    "edit": {
        "words": "description",
        "act": "action",
        "of": "target_id",
        "taken_back_by": "undone_by",
    },
    "change": {"table": "table_name", "before": "old_values", "after": "new_values"},
}
# Codes by the table's new name and the column's, old code to new.
_CODES: Mapping[str, Mapping[str, Mapping[str, str]]] = {
    "tool": {"status": {"kept": "not_for_sale"}},
    "own_table": {"purpose": {"dating_clues": "known_features"}},
    "setting": {"id": {"promise": "guarantee"}},
}
# Indexes: the table's new name, the old index, the new one, its columns.
_INDEXES = (
    ("evidence", "ix_sign_tool_id", "ix_evidence_tool_id", ["tool_id"]),
    ("dimension", "ix_measurement_tool_id", "ix_dimension_tool_id", ["tool_id"]),
    ("pin", "ix_pin_sign_id", "ix_pin_evidence_id", ["evidence_id"]),
    ("edit", "ix_edit_act", "ix_edit_action", ["action", "undone_by"]),
)

_change = sa.table(
    "change",
    sa.column("id", sa.String),
    sa.column("table_name", sa.String),
    sa.column("row_id", sa.String),
    sa.column("old_values", sa.JSON()),
    sa.column("new_values", sa.JSON()),
)


def upgrade() -> None:
    """Rename to the new words."""
    for _, old, _, _ in _INDEXES:
        op.drop_index(old)
    _rename_tables(_TABLES)
    for table, columns in _COLUMNS.items():
        for before, after in columns.items():
            _rename_column(table, before, after)
    for table, _, new, columns_of_index in _INDEXES:
        op.create_index(new, table, columns_of_index)
    # By which rules the tools' worked-out columns were last filled; 0 has them filled anew.
    op.add_column(
        "catalog_info",
        sa.Column("summary_version", sa.Integer(), nullable=False, server_default="0"),
    )
    _replace_codes(_CODES)
    _rewrite_history(_TABLES, _COLUMNS, _CODES)


def downgrade() -> None:
    """Rename back to the old words."""
    old_columns = {table: _inverse(columns) for table, columns in _COLUMNS.items()}
    old_codes = {
        table: {column: _inverse(codes) for column, codes in columns.items()}
        for table, columns in _CODES.items()
    }
    op.drop_column("catalog_info", "summary_version")
    _rewrite_history({}, old_columns, old_codes)
    _replace_codes(old_codes)
    old_tables = _inverse(_TABLES)
    for table, name in old_tables.items():
        op.execute(_change.update().where(_change.c.table_name == table).values(table_name=name))
    for _, _, new, _ in _INDEXES:
        op.drop_index(new)
    for table, columns in old_columns.items():
        for before, after in columns.items():
            _rename_column(table, before, after)
    _rename_tables(old_tables)
    _create_old_indexes(old_tables, old_columns)


def _rename_tables(names: Mapping[str, str]) -> None:
    for before, after in names.items():
        op.rename_table(before, after)


def _create_old_indexes(
    old_tables: Mapping[str, str], old_columns: Mapping[str, Mapping[str, str]]
) -> None:
    for table, old, _, columns in _INDEXES:
        names = old_columns.get(table, {})
        op.create_index(
            old, old_tables.get(table, table), [names.get(name, name) for name in columns]
        )


def _rename_column(table: str, before: str, after: str) -> None:
    # Said in SQL that SQLite and PostgreSQL share: in place, with every reference following.
    op.execute(f'ALTER TABLE "{table}" RENAME COLUMN "{before}" TO "{after}"')


def _replace_codes(codes: Mapping[str, Mapping[str, Mapping[str, str]]]) -> None:
    for table, columns in codes.items():
        for column, renamed in columns.items():
            rows = sa.table(table, sa.column(column, sa.String))
            for before, after in renamed.items():
                changed = rows.update().where(rows.c[column] == before).values({column: after})
                op.execute(changed)


def _rewrite_history(
    tables: Mapping[str, str],
    columns: Mapping[str, Mapping[str, str]],
    codes: Mapping[str, Mapping[str, Mapping[str, str]]],
) -> None:
    """Rename tables, columns and codes within the stored rows of the history."""
    connection = op.get_bind()
    wanted = set(tables) | set(columns) | set(codes)
    asked = sa.select(_change).where(_change.c.table_name.in_(wanted))
    for row in connection.execute(asked).all():
        table = tables.get(row.table_name, row.table_name)
        renames, replaced = columns.get(table, {}), codes.get(table, {})
        connection.execute(
            _change.update()
            .where(_change.c.id == row.id)
            .values(
                table_name=table,
                row_id=replaced.get("id", {}).get(row.row_id, row.row_id),
                old_values=_rewritten(row.old_values, renames, replaced),
                new_values=_rewritten(row.new_values, renames, replaced),
            )
        )


def _rewritten(
    values: Mapping[str, object] | None,
    renames: Mapping[str, str],
    codes: Mapping[str, Mapping[str, str]],
) -> dict[str, object] | None:
    """Return a stored row under the new names and codes."""
    if values is None:
        return None
    return {
        renames.get(name, name): _replaced(
            value, codes.get(renames.get(name, name)) or codes.get(name)
        )
        for name, value in values.items()
    }


def _replaced(value: object, codes: Mapping[str, str] | None) -> object:
    return codes.get(value, value) if codes and isinstance(value, str) else value


def _inverse(names: Mapping[str, str]) -> dict[str, str]:
    return {after: before for before, after in names.items()}
