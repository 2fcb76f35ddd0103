"""Issued PDFs carry their hash, runs under way are known to all, and links have indexes."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_INDEXES = (
    ("photograph", ["taken_at"]),
    ("pair", ["before_id"]),
    ("pair", ["after_id"]),
    ("defect", ["part_id"]),
    ("evidence", ["part_id"]),
    ("dimension", ["part_id"]),
    ("work", ["part_id"]),
    ("reading_area", ["outline_id"]),
    ("reading_area", ["photograph_id"]),
)


def upgrade() -> None:
    """Add the column, the table and the indexes."""
    # Null for sheets issued before: nobody knows any more what their files held.
    op.add_column("issued_sheet", sa.Column("pdf_sha256", sa.String(64), nullable=True))
    op.create_table(
        "run_under_way",
        sa.Column("run", sa.String(32), nullable=False),
        sa.Column("machine", sa.Text(), nullable=False),
        sa.Column("process", sa.Integer(), nullable=False),
        sa.Column("since", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("run", name="pk_run_under_way"),
    )
    for table, columns in _INDEXES:
        op.create_index(_name(table, columns), table, columns)


def downgrade() -> None:
    """Remove them again."""
    for table, columns in _INDEXES:
        op.drop_index(_name(table, columns))
    op.drop_table("run_under_way")
    op.drop_column("issued_sheet", "pdf_sha256")


def _name(table: str, columns: list[str]) -> str:
    return f"ix_{table}_{'_'.join(columns)}"
