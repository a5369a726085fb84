"""`python -m tests.dashboard.the_routes`: every path that the board serves, its own and Streamlit's, as JSON.

A process of its own, because a second Streamlit application in one process is none that anybody runs.
"""

import json
import tempfile
from pathlib import Path

from starlette.routing import BaseRoute
from streamlit.web.server.starlette.starlette_app import create_streamlit_routes

from dashboard import server
from tests.an_office import an_office


def _of(route: BaseRoute) -> tuple[str, list[str]]:
    return str(getattr(route, "path", "")), sorted(getattr(route, "methods", None) or ["SOCKET"])


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder, an_office(Path(folder)) as office:
        app = server.board_app(office)
        routes = [*app._user_routes, *create_streamlit_routes(app._create_runtime())]
        print(json.dumps([_of(route) for route in routes]))
