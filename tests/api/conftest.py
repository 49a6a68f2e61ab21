"""What tests of the API ask for."""

from a_server import here, on_both  # noqa: F401  # fixtures
