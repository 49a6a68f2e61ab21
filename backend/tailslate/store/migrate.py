"""Bring a database up to this version of the tables, with a copy of an older one beside it."""

from __future__ import annotations

from pathlib import Path

import flask_migrate
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from flask import Flask

from tailslate.store.backup import back_up
from tailslate.store.database import Database

MIGRATIONS = Path(__file__).parent / "migrations"

migration = flask_migrate.Migrate(directory=str(MIGRATIONS))


def migrate(app: Flask, database: Database, now_ms: int) -> None:
    """Run the migrations that are missing. A database that holds something is backed up first."""
    with database.engine.connect() as connection:
        present = MigrationContext.configure(connection).get_current_revision()
    newest = ScriptDirectory(str(MIGRATIONS)).get_current_head()
    if present == newest:
        return
    if present and database.file:
        back_up(
            database.file, database.file.with_name(f"{database.file.name}.before-migration-{now_ms}"), now_ms
        )
    with app.app_context():
        flask_migrate.upgrade()
