"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Bring the tables up."""
    op.create_table(
        "batch",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("code", sa.String(length=60), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("bought_on", sa.Date(), nullable=True),
        sa.Column("bought_from", sa.Text(), nullable=False),
        sa.Column("price", sa.String(length=40), nullable=True),
        sa.Column("premium", sa.String(length=40), nullable=True),
        sa.Column("carriage", sa.String(length=40), nullable=True),
        sa.Column("currency", sa.String(length=3), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_batch")),
        sa.UniqueConstraint("code", name=op.f("uq_batch_code")),
    )
    op.create_table(
        "catalog_info",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("written_by", sa.String(length=40), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_catalog_info")),
    )
    op.create_table(
        "edit",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("act", sa.String(length=4), nullable=False),
        sa.Column("of", sa.String(length=32), nullable=True),
        sa.Column("taken_back_by", sa.Integer(), nullable=True),
        sa.Column("run", sa.String(length=32), nullable=True),
        sa.ForeignKeyConstraint(
            ["of"], ["edit.id"], name=op.f("fk_edit_of"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_edit")),
        sa.UniqueConstraint("number", name=op.f("uq_edit_number")),
    )
    with op.batch_alter_table("edit", schema=None) as batch_op:
        batch_op.create_index("ix_edit_act", ["act", "taken_back_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_edit_run"), ["run"], unique=False)

    op.create_table(
        "own_kind",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("code", sa.String(length=60), nullable=False),
        sa.Column("definition", sa.JSON(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_own_kind")),
        sa.UniqueConstraint("code", name=op.f("uq_own_kind_code")),
    )
    op.create_table(
        "own_table",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("purpose", sa.String(length=40), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_own_table")),
    )
    op.create_table(
        "setting",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("value", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_setting")),
    )
    op.create_table(
        "stored_file",
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("suffix", sa.String(length=16), nullable=False),
        sa.Column("size", sa.Integer(), nullable=False),
        sa.Column("format", sa.String(length=20), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("taken_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("camera", sa.Text(), nullable=False),
        sa.Column("stored_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("looks_like", sa.String(length=80), nullable=True),
        sa.Column("sharpness", sa.Double(), nullable=True),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_stored_file")),
    )
    op.create_table(
        "change",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("edit_id", sa.String(length=32), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("table", sa.String(length=40), nullable=False),
        sa.Column("row_id", sa.String(length=32), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=True),
        sa.Column("before", sa.JSON(), nullable=True),
        sa.Column("after", sa.JSON(), nullable=True),
        sa.ForeignKeyConstraint(
            ["edit_id"],
            ["edit.id"],
            name=op.f("fk_change_edit_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change")),
    )
    with op.batch_alter_table("change", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_change_edit_id"), ["edit_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_change_row_id"), ["row_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_change_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "tool",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("batch_id", sa.String(length=32), nullable=False),
        sa.Column("stock_number", sa.String(length=60), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=60), nullable=False),
        sa.Column("maker", sa.Text(), nullable=False),
        sa.Column("model", sa.Text(), nullable=False),
        sa.Column("size", sa.Text(), nullable=False),
        sa.Column("identified_by", sa.String(length=40), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("state", sa.String(length=40), nullable=False),
        sa.Column("defects_looked_at", sa.Boolean(), nullable=False),
        sa.Column("work_finished", sa.Boolean(), nullable=False),
        sa.Column("asking", sa.String(length=40), nullable=True),
        sa.Column("sold_for", sa.String(length=40), nullable=True),
        sa.Column("sold_on", sa.Date(), nullable=True),
        sa.Column("sold_to", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("search_text", sa.Text(), nullable=False),
        sa.Column("summary", sa.JSON(), nullable=False),
        sa.Column("lacks_finished", sa.Boolean(), nullable=False),
        sa.Column("lacks_date", sa.Boolean(), nullable=False),
        sa.Column("lacks_measure", sa.Boolean(), nullable=False),
        sa.Column("disagrees", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["batch_id"],
            ["batch.id"],
            name=op.f("fk_tool_batch_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tool")),
        sa.UniqueConstraint("stock_number", name=op.f("uq_tool_stock_number")),
    )
    with op.batch_alter_table("tool", schema=None) as batch_op:
        batch_op.create_index(
            "ix_tool_order", ["batch_id", "position", "stock_number"], unique=False
        )

    op.create_table(
        "comparable",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("price", sa.String(length=40), nullable=False),
        sa.Column("currency", sa.String(length=3), nullable=False),
        sa.Column("sold_on", sa.Date(), nullable=True),
        sa.Column("where", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_comparable_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_comparable")),
    )
    with op.batch_alter_table("comparable", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_comparable_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "issued_sheet",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("issued_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("issued_by", sa.Text(), nullable=False),
        sa.Column("file_name", sa.Text(), nullable=False),
        sa.Column("fingerprint", sa.String(length=64), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_issued_sheet_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_issued_sheet")),
        sa.UniqueConstraint("number", name=op.f("uq_issued_sheet_number")),
    )
    with op.batch_alter_table("issued_sheet", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_issued_sheet_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "part",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("code", sa.String(length=60), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("finish", sa.String(length=40), nullable=False),
        sa.Column("small", sa.Boolean(), nullable=False),
        sa.Column("optional", sa.Boolean(), nullable=False),
        sa.Column("status", sa.String(length=40), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_part_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
    )
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_part_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "photograph",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("batch_id", sa.String(length=32), nullable=True),
        sa.Column("tool_id", sa.String(length=32), nullable=True),
        sa.Column("stage", sa.String(length=40), nullable=False),
        sa.Column("view", sa.String(length=40), nullable=False),
        sa.Column("caption", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("original_name", sa.Text(), nullable=False),
        sa.Column("taken_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("added_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("filed_by", sa.String(length=40), nullable=False),
        sa.Column("filed_why", sa.Text(), nullable=False),
        sa.Column("suggested", sa.String(length=60), nullable=False),
        sa.Column("scale", sa.JSON(), nullable=True),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["batch_id"],
            ["batch.id"],
            name=op.f("fk_photograph_batch_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["sha256"],
            ["stored_file.sha256"],
            name=op.f("fk_photograph_sha256"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_photograph_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photograph")),
    )
    with op.batch_alter_table("photograph", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_photograph_batch_id"), ["batch_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photograph_sha256"), ["sha256"], unique=False)
        batch_op.create_index(batch_op.f("ix_photograph_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "surface",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("code", sa.String(length=60), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("finish", sa.String(length=40), nullable=False),
        sa.Column("parts", sa.JSON(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_surface_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_surface")),
    )
    with op.batch_alter_table("surface", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_surface_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "defect",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("part_id", sa.String(length=32), nullable=True),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=60), nullable=False),
        sa.Column("severity", sa.String(length=40), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("size", sa.Text(), nullable=False),
        sa.Column("size_basis", sa.String(length=40), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("told", sa.Boolean(), nullable=False),
        sa.Column("why_not_told", sa.Text(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["part_id"],
            ["part.id"],
            name=op.f("fk_defect_part_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_defect_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_defect")),
    )
    with op.batch_alter_table("defect", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_defect_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "measurement",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("part_id", sa.String(length=32), nullable=True),
        sa.Column("what", sa.String(length=60), nullable=False),
        sa.Column("value", sa.String(length=40), nullable=False),
        sa.Column("plus_minus", sa.String(length=40), nullable=True),
        sa.Column("as_typed", sa.Text(), nullable=False),
        sa.Column("basis", sa.String(length=40), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["part_id"],
            ["part.id"],
            name=op.f("fk_measurement_part_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_measurement_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_measurement")),
    )
    with op.batch_alter_table("measurement", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_measurement_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "outline",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("photograph_id", sa.String(length=32), nullable=False),
        sa.Column("surface_id", sa.String(length=32), nullable=False),
        sa.Column("finish", sa.String(length=40), nullable=False),
        sa.Column("polygons", sa.JSON(), nullable=False),
        sa.Column("strokes", sa.JSON(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["photograph_id"],
            ["photograph.id"],
            name=op.f("fk_outline_photograph_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["surface_id"],
            ["surface.id"],
            name=op.f("fk_outline_surface_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outline")),
    )
    with op.batch_alter_table("outline", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_outline_photograph_id"), ["photograph_id"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_outline_surface_id"), ["surface_id"], unique=False)

    op.create_table(
        "pair",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("before_id", sa.String(length=32), nullable=False),
        sa.Column("after_id", sa.String(length=32), nullable=False),
        sa.Column("alignment", sa.JSON(), nullable=True),
        sa.Column("on_sheet", sa.Boolean(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["after_id"],
            ["photograph.id"],
            name=op.f("fk_pair_after_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["before_id"],
            ["photograph.id"],
            name=op.f("fk_pair_before_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_pair_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pair")),
    )
    with op.batch_alter_table("pair", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_pair_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "reading",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("surface_id", sa.String(length=32), nullable=False),
        sa.Column("finish", sa.String(length=40), nullable=False),
        sa.Column("stage", sa.String(length=40), nullable=False),
        sa.Column("value", sa.String(length=40), nullable=False),
        sa.Column("low", sa.String(length=40), nullable=False),
        sa.Column("high", sa.String(length=40), nullable=False),
        sa.Column("new_finish", sa.String(length=40), nullable=True),
        sa.Column("new_finish_low", sa.String(length=40), nullable=True),
        sa.Column("new_finish_high", sa.String(length=40), nullable=True),
        sa.Column("basis", sa.String(length=40), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("read_by", sa.Text(), nullable=False),
        sa.Column("read_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["surface_id"],
            ["surface.id"],
            name=op.f("fk_reading_surface_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_reading_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
    )
    with op.batch_alter_table("reading", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_reading_surface_id"), ["surface_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_reading_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "sign",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("part_id", sa.String(length=32), nullable=True),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("seen", sa.Text(), nullable=False),
        sa.Column("mark", sa.JSON(), nullable=False),
        sa.Column("years", sa.Text(), nullable=False),
        sa.Column("edtf", sa.String(length=80), nullable=False),
        sa.Column("not_before", sa.Integer(), nullable=True),
        sa.Column("not_after", sa.Integer(), nullable=True),
        sa.Column("sure", sa.String(length=40), nullable=False),
        sa.Column("looseness", sa.Integer(), nullable=False),
        sa.Column("basis", sa.String(length=40), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("source_status", sa.String(length=40), nullable=False),
        sa.Column("counted", sa.Boolean(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["part_id"],
            ["part.id"],
            name=op.f("fk_sign_part_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_sign_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sign")),
    )
    with op.batch_alter_table("sign", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_sign_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "work",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("tool_id", sa.String(length=32), nullable=False),
        sa.Column("part_id", sa.String(length=32), nullable=True),
        sa.Column("kind", sa.String(length=60), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("materials", sa.Text(), nullable=False),
        sa.Column("done_on", sa.Date(), nullable=True),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("cost", sa.String(length=40), nullable=True),
        sa.Column("told", sa.Boolean(), nullable=False),
        sa.Column("binned_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["part_id"],
            ["part.id"],
            name=op.f("fk_work_part_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["tool_id"],
            ["tool.id"],
            name=op.f("fk_work_tool_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work")),
    )
    with op.batch_alter_table("work", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_work_tool_id"), ["tool_id"], unique=False)

    op.create_table(
        "pin",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("photograph_id", sa.String(length=32), nullable=False),
        sa.Column("defect_id", sa.String(length=32), nullable=True),
        sa.Column("sign_id", sa.String(length=32), nullable=True),
        sa.Column("x", sa.Double(), nullable=False),
        sa.Column("y", sa.Double(), nullable=False),
        sa.Column("balloon_x", sa.Double(), nullable=False),
        sa.Column("balloon_y", sa.Double(), nullable=False),
        sa.ForeignKeyConstraint(
            ["defect_id"],
            ["defect.id"],
            name=op.f("fk_pin_defect_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["photograph_id"],
            ["photograph.id"],
            name=op.f("fk_pin_photograph_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["sign_id"],
            ["sign.id"],
            name=op.f("fk_pin_sign_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pin")),
    )
    with op.batch_alter_table("pin", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_pin_defect_id"), ["defect_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_pin_photograph_id"), ["photograph_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_pin_sign_id"), ["sign_id"], unique=False)

    op.create_table(
        "reading_area",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("reading_id", sa.String(length=32), nullable=False),
        sa.Column("outline_id", sa.String(length=32), nullable=False),
        sa.Column("photograph_id", sa.String(length=32), nullable=False),
        sa.Column("kept_px", sa.Integer(), nullable=False),
        sa.Column("lost_px", sa.Integer(), nullable=False),
        sa.Column("cannot_tell_px", sa.Integer(), nullable=False),
        sa.Column("area_mm2", sa.String(length=40), nullable=True),
        sa.Column("share", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(
            ["outline_id"],
            ["outline.id"],
            name=op.f("fk_reading_area_outline_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["photograph_id"],
            ["photograph.id"],
            name=op.f("fk_reading_area_photograph_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"],
            ["reading.id"],
            name=op.f("fk_reading_area_reading_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading_area")),
        sa.UniqueConstraint(
            "reading_id", "outline_id", name=op.f("uq_reading_area_reading_id_outline_id")
        ),
    )
    with op.batch_alter_table("reading_area", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_reading_area_reading_id"), ["reading_id"], unique=False
        )


def downgrade() -> None:
    """Bring them back."""
    with op.batch_alter_table("reading_area", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_reading_area_reading_id"))

    op.drop_table("reading_area")
    with op.batch_alter_table("pin", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_pin_sign_id"))
        batch_op.drop_index(batch_op.f("ix_pin_photograph_id"))
        batch_op.drop_index(batch_op.f("ix_pin_defect_id"))

    op.drop_table("pin")
    with op.batch_alter_table("work", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_work_tool_id"))

    op.drop_table("work")
    with op.batch_alter_table("sign", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_sign_tool_id"))

    op.drop_table("sign")
    with op.batch_alter_table("reading", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_reading_tool_id"))
        batch_op.drop_index(batch_op.f("ix_reading_surface_id"))

    op.drop_table("reading")
    with op.batch_alter_table("pair", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_pair_tool_id"))

    op.drop_table("pair")
    with op.batch_alter_table("outline", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_outline_surface_id"))
        batch_op.drop_index(batch_op.f("ix_outline_photograph_id"))

    op.drop_table("outline")
    with op.batch_alter_table("measurement", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_measurement_tool_id"))

    op.drop_table("measurement")
    with op.batch_alter_table("defect", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_defect_tool_id"))

    op.drop_table("defect")
    with op.batch_alter_table("surface", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_surface_tool_id"))

    op.drop_table("surface")
    with op.batch_alter_table("photograph", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_photograph_tool_id"))
        batch_op.drop_index(batch_op.f("ix_photograph_sha256"))
        batch_op.drop_index(batch_op.f("ix_photograph_batch_id"))

    op.drop_table("photograph")
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_part_tool_id"))

    op.drop_table("part")
    with op.batch_alter_table("issued_sheet", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_issued_sheet_tool_id"))

    op.drop_table("issued_sheet")
    with op.batch_alter_table("comparable", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_comparable_tool_id"))

    op.drop_table("comparable")
    with op.batch_alter_table("tool", schema=None) as batch_op:
        batch_op.drop_index("ix_tool_order")

    op.drop_table("tool")
    with op.batch_alter_table("change", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_change_tool_id"))
        batch_op.drop_index(batch_op.f("ix_change_row_id"))
        batch_op.drop_index(batch_op.f("ix_change_edit_id"))

    op.drop_table("change")
    op.drop_table("stored_file")
    op.drop_table("setting")
    op.drop_table("own_table")
    op.drop_table("own_kind")
    with op.batch_alter_table("edit", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_edit_run"))
        batch_op.drop_index("ix_edit_act")

    op.drop_table("edit")
    op.drop_table("catalog_info")
    op.drop_table("batch")
