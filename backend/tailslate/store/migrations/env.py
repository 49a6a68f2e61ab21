"""Runs migrations on the database of the current app, in one transaction.

SQLite rebuilds a table by dropping it, which would take its children along while foreign keys are on: they
are off for the run and checked at its end. A server on PostgreSQL waits while another one migrates.
"""

from __future__ import annotations

from alembic import context
from flask import current_app
from sqlalchemy import text

from tailslate.store.tables import Table

LOCK_NUMBER = 7420  # any fixed number: the advisory lock that servers starting at once wait for


class MigrationBrokeReferences(Exception):
    """A migration left rows that refer to nothing; it was rolled back."""


engine = current_app.extensions["migrate"].db.engine.execution_options(tailslate_writes=True)
with engine.connect() as connection:
    is_sqlite = connection.dialect.name == "sqlite"
    if is_sqlite:
        connection.connection.dbapi_connection.execute("PRAGMA foreign_keys = OFF")
    try:
        context.configure(connection=connection, target_metadata=Table.metadata, transactional_ddl=True)
        with context.begin_transaction():
            if not is_sqlite:
                connection.execute(text(f"SELECT pg_advisory_xact_lock({LOCK_NUMBER})"))
            context.run_migrations()
            if is_sqlite and connection.execute(text("PRAGMA foreign_key_check")).first():
                raise MigrationBrokeReferences
    finally:
        if is_sqlite:
            connection.connection.dbapi_connection.execute("PRAGMA foreign_keys = ON")
