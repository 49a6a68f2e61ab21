"""The description of the API: valid OpenAPI 3.1 by an outside validator, and true of the routes and replies.

Source: OpenAPI Specification 3.1, checked by the package openapi-spec-validator; JSON Schema 2020-12 by jsonschema.
"""

from __future__ import annotations

from typing import Any

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

from a_server import Here
from people import DAY, PRODUCER, PROPS_BUYER
from tailslate.day import kinds


@pytest.fixture
def description(here: Here) -> dict[str, Any]:
    """The description as served."""
    found: dict[str, Any] | None = here.app.test_client().get("/api/openapi.json").json
    assert found
    return found


def test_it_is_valid_openapi_3_1(description: dict[str, Any]) -> None:
    assert description["openapi"].startswith("3.1")
    assert [error.message for error in OpenAPIV31SpecValidator(description).iter_errors()] == []


def test_it_names_every_route_and_method_and_no_other(here: Here, description: dict[str, Any]) -> None:
    described = {(path, method) for path, operations in description["paths"].items() for method in operations}
    routes = set()
    for rule in here.app.url_map.iter_rules():
        if rule.rule.startswith("/api/") or rule.rule == "/healthz":
            path = "".join(
                "{" + part.split(":")[-1] if ">" in part else part for part in rule.rule.split("<")
            )
            for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}:
                routes.add((path.replace(">", "}"), method.lower()))
    assert described == routes
    assert len(routes) > 10


def test_every_kind_of_record_is_in_it_with_its_limits(description: dict[str, Any]) -> None:
    schemas = description["components"]["schemas"]
    names = {name.removesuffix("Record").lower() for name in schemas if name.endswith("Record")}
    assert names == {name.replace("_", "") for name in kinds.KINDS}
    legs = schemas["RigRecord"]["properties"]["legs"]
    assert (legs["minimum"], legs["maximum"]) == (3, 12)


def follow(description: dict[str, Any], path: str, method: str, status: str) -> Draft202012Validator:
    """Return a validator of what the description says that a route answers."""
    answer = description["paths"][path][method]["responses"][status]["content"]["application/json"]["schema"]
    return Draft202012Validator({**answer, "components": description["components"]})


def test_replies_are_as_described(here: Here, description: dict[str, Any]) -> None:
    producer, props = here.phone_of(PRODUCER), here.phone_of(PROPS_BUYER)
    follow(description, "/api/join", "post", "201").validate(props.last.json)
    props.act("hold", "h-1", {"why": "glass on the floor", "type": "stop"})
    props.act("allergy", "a-1", {"what": "nuts"})
    body, _sent = props.request()
    body["sets"]["floor"] |= {"details": True, "compare": {"abc": []}}
    reply = props.ask("POST", f"/api/days/{DAY}/exchange", body).json
    follow(description, "/api/days/{day_id}/exchange", "post", "200").validate(reply)
    assert {"answers", "groups", "from", "place", "reach", "mark", "details", "want", "missing"} <= set(
        reply["sets"]["floor"]
    )
    for name in ("devices", "invitations"):
        found = producer.ask("GET", f"/api/days/{DAY}/{name}").json
        follow(description, f"/api/days/{{day_id}}/{name}", "get", "200").validate(found)
    refused = props.ask("GET", f"/api/days/{DAY}/devices")
    follow(description, "/api/days/{day_id}/devices", "get", "403").validate(refused.json)
    follow(description, "/api/kinds", "get", "200").validate(here.app.test_client().get("/api/kinds").json)


def test_the_server_s_table_of_kinds_is_the_phone_s(here: Here) -> None:
    found = here.app.test_client().get("/api/kinds").json
    assert found
    assert found["rules"] == kinds.RULES
    assert [kind["name"] for kind in found["kinds"]] == list(kinds.KINDS)
