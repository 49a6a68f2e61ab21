"""Migrations make exactly the tables that the code expects, on both databases, and lose nothing of a filled one."""

from __future__ import annotations

from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from a_server import Here
from people import GRIP
from tailslate.store.migrate import MIGRATIONS
from tailslate.store.tables import Table


def test_migrated_tables_are_the_tables_of_the_code(on_both: Here) -> None:
    with on_both.parts.database.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Table.metadata) == []


def test_there_is_one_line_of_migrations_and_each_says_what_it_does() -> None:
    scripts = ScriptDirectory(str(MIGRATIONS))
    assert len(scripts.get_heads()) == 1
    assert all(script.doc for script in scripts.walk_revisions())


def test_the_edits_table_is_never_altered() -> None:
    """Rebuilding it would put every word of the crew at risk; new columns and tables are enough."""
    for script in ScriptDirectory(str(MIGRATIONS)).walk_revisions():
        code = script.module.__loader__.get_source(script.module.__name__)
        assert 'alter_table("edits"' not in code.replace("'", '"')
        assert 'drop_table("edits"' not in code.replace("'", '"')


def test_starting_again_on_a_filled_database_changes_nothing(on_both: Here) -> None:
    phone = on_both.phone_of(GRIP)
    phone.keep(phone.pen.ticks(20))
    phone.exchange()
    before = on_both.edits()
    on_both.close()
    on_both.open()
    assert on_both.edits() == before
