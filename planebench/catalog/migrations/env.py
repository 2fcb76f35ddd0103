"""Runs a migration on the connection that the catalog hands in."""

from alembic import context

from planebench.catalog.tables import Row

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Row.metadata,
    # SQLite alters a table by copying it.
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
