"""Alembic runs this file: the migrations go over the connection, and in the transaction, of who asked."""

from alembic import context

context.configure(connection=context.config.attributes["connection"], transactional_ddl=True)
with context.begin_transaction():
    context.run_migrations()
