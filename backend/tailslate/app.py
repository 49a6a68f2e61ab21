"""create_app(config): the only place where rules, store and api are joined."""

from __future__ import annotations

import shutil
import time
from collections.abc import Mapping
from typing import Any

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from tailslate import api
from tailslate.api.at_hand import KEY, Parts
from tailslate.api.ring import Bell
from tailslate.api.slow_down import SlowDown
from tailslate.day.exchange import BODY_LIMIT_BYTES
from tailslate.store.crew import random_name, server_row
from tailslate.store.database import Database, database_url, engine_options
from tailslate.store.intake import Office
from tailslate.store.migrate import migrate, migration
from tailslate.store.tables import db


def wall_clock_ms() -> int:
    """Return the time [ms since 1970 UTC]."""
    return time.time_ns() // 1_000_000


DEFAULTS: dict[str, Any] = {
    "DATABASE": "",  # path of an SQLite file, or postgresql://...; has to be given
    "CHECK_DATABASE": True,  # read the whole file once before serving it
    "PROXY_HOPS": 0,  # how many proxies of our own stand in front; their word on the address is taken, no other
    "STREAMS_IN_ALL": 200,  # of the 256 threads: the rest answers exchanges
    "STREAMS_PER_DEVICE": 2,
    "STREAM_SECONDS": 600,
    "HEARTBEAT_SECONDS": 15,
    "FAILED_JOINS": 20,  # of one address within FAILED_JOINS_WINDOW_MS
    "FAILED_JOINS_WINDOW_MS": 60_000,
    "FREE_BYTES_NEEDED": 50 * 1024 * 1024,  # with less on the disk nothing is taken in; phones keep it
    "FREE_BYTES": lambda path: shutil.disk_usage(path).free,
    "PHOTOGRAPH_BYTES_A_DAY": 1 << 30,  # of all phones together; a quarter of it for any one of them
    "CERTIFICATE_AUTHORITY": "",  # file of the local authority's certificate, offered for download
    "WITHDRAW_WORKER": False,  # answer /sw.js with one that removes itself and its caches
    "NOW_MS": wall_clock_ms,
    "MAX_CONTENT_LENGTH": BODY_LIMIT_BYTES,
}


def create_app(config: Mapping[str, Any]) -> Flask:
    """Return a server on the database that the configuration names, brought up to date first.

    Args:
        config: DATABASE, and whatever of DEFAULTS is to be otherwise. What it leaves open, the environment may
            say: TAILSLATE_STREAMS_IN_ALL=100.
    """
    app = Flask("tailslate", static_folder=None)
    app.config.from_mapping(DEFAULTS)
    app.config.from_prefixed_env("TAILSLATE")
    app.config.from_mapping(config)
    url = database_url(app.config["DATABASE"])
    app.config["SQLALCHEMY_DATABASE_URI"] = url
    app.config["SQLALCHEMY_ENGINE_OPTIONS"] = engine_options(url)
    db.init_app(app)
    migration.init_app(app, db)
    with app.app_context():
        database = Database(db.engine)
    if app.config["CHECK_DATABASE"]:
        for warning in database.check():
            app.logger.warning(warning)
    now_ms = app.config["NOW_MS"]
    migrate(app, database, now_ms())
    with database.writing() as session:
        secret = server_row(session).secret
    app.extensions[KEY] = Parts(
        database=database,
        office=Office(incarnation=random_name(), secret=secret),
        bell=Bell(app.config["STREAMS_IN_ALL"], app.config["STREAMS_PER_DEVICE"]),
        failed_joins=SlowDown(app.config["FAILED_JOINS"], app.config["FAILED_JOINS_WINDOW_MS"]),
        now_ms=now_ms,
    )
    api.register(app)
    if app.config["PROXY_HOPS"]:
        hops = app.config["PROXY_HOPS"]
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=hops, x_proto=hops, x_host=hops)  # type: ignore[method-assign]
    return app
