"""Documents, checkers and what is shipped: some of it is asked of a server."""

from a_server import here  # noqa: F401  # a fixture
