"""Runs migrations on the connection that county.store.migrate hands over, inside its transaction."""

from alembic import context

from county.store.schema import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
