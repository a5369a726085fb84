"""An OpenID Connect provider of the tests' own: real HTTP, its own keys, signed answers, and ways to get them wrong."""

import base64
import hashlib
import hmac
import json
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from urllib.parse import quote_plus, urlencode

from joserfc import jwt
from joserfc.jwk import KeySet, OctKey, RSAKey
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from tests.dashboard.sign_in.a_door import served
from tests.ingest.a_process import free_port

CLIENT, SECRET = "the-board", "a secret of the provider's giving"


@dataclass
class AProvider:
    """It signs everybody in as `email`. `claims` are laid over the right ones (None takes one away)."""

    address: str
    email: str = "ann.lee@county.example"
    claims: dict[str, object] = field(default_factory=dict)
    state: str | None = None
    signed_with: str = "own"
    issuer: str = ""
    tokens_given: int = 0
    asked: list[dict[str, str]] = field(default_factory=list)
    _codes: dict[str, dict[str, str]] = field(default_factory=dict)
    _key: RSAKey = field(default_factory=lambda: RSAKey.generate_key(2048, {"kid": "own", "use": "sig"}))

    def routes(self) -> list[Route]:
        return [
            Route("/.well-known/openid-configuration", self.description),
            Route("/authorize", self.authorize),
            Route("/token", self.token, methods=["POST"]),
            Route("/keys", self.keys),
        ]

    async def description(self, request: Request) -> Response:
        return JSONResponse(
            {
                "issuer": self.issuer or self.address,
                "authorization_endpoint": f"{self.address}/authorize",
                "token_endpoint": f"{self.address}/token",
                "jwks_uri": f"{self.address}/keys",
                "id_token_signing_alg_values_supported": ["RS256", "HS256", "none"],
            }
        )

    async def authorize(self, request: Request) -> Response:
        """Whoever comes is signed in at once and sent back."""
        said = dict(request.query_params)
        self.asked.append(said)
        code = secrets.token_urlsafe(16)
        self._codes[code] = said
        back = {"code": code, "state": said["state"] if self.state is None else self.state}
        return RedirectResponse(f"{said['redirect_uri']}?{urlencode(back)}", 303)

    async def token(self, request: Request) -> Response:
        """A code is good once, for the client that it was given to, with the verifier behind its challenge."""
        form = await request.form()
        basic = base64.b64encode(f"{quote_plus(CLIENT)}:{quote_plus(SECRET)}".encode()).decode()
        said = self._codes.pop(str(form["code"]), None)
        digest = hashlib.sha256(str(form.get("code_verifier", "")).encode()).digest()
        challenge = base64.urlsafe_b64encode(digest).rstrip(b"=").decode()
        if (
            said is None
            or said["code_challenge_method"] != "S256"
            or said["code_challenge"] != challenge
            or said["redirect_uri"] != form["redirect_uri"]
            or request.headers.get("authorization") != f"Basic {basic}"
        ):
            return JSONResponse({"error": "invalid_grant"}, 400)
        self.tokens_given += 1
        access = secrets.token_urlsafe(16)
        return JSONResponse(
            {
                "access_token": access,
                "token_type": "Bearer",
                "expires_in": 60,
                "id_token": self._id_token(said["nonce"]),
            }
        )

    async def keys(self, request: Request) -> Response:
        return JSONResponse(KeySet([self._key]).as_dict(private=False))

    def _id_token(self, nonce: str) -> str:
        now = int(time.time())
        right: dict[str, object] = {
            "iss": self.issuer or self.address,
            "aud": CLIENT,
            "sub": "u-1",
            "iat": now,
            "exp": now + 300,
            "nonce": nonce,
            "email": self.email,
            "email_verified": True,
        }
        said = {name: value for name, value in (right | self.claims).items() if value is not None}
        return _SIGNED[self.signed_with](self._key, said)


def _by_own_key(key: RSAKey, said: dict[str, object]) -> str:
    return jwt.encode({"alg": "RS256", "kid": "own"}, said, key)


def _by_another_key(key: RSAKey, said: dict[str, object]) -> str:
    return jwt.encode({"alg": "RS256", "kid": "own"}, said, RSAKey.generate_key(2048))


def _by_the_shared_secret(key: RSAKey, said: dict[str, object]) -> str:
    return jwt.encode({"alg": "HS256"}, said, OctKey.import_key(SECRET), algorithms=["HS256"])


def _by_the_public_key_as_a_secret(key: RSAKey, said: dict[str, object]) -> str:
    public = key.as_pem(private=False)
    signed = f"{_part({'alg': 'HS256', 'kid': 'own'})}.{_part(said)}"
    mac = hmac.new(public, signed.encode(), hashlib.sha256).digest()
    return f"{signed}.{base64.urlsafe_b64encode(mac).rstrip(b'=').decode()}"


def _by_nobody(key: RSAKey, said: dict[str, object]) -> str:
    return f"{_part({'alg': 'none'})}.{_part(said)}."


def _part(said: dict[str, object]) -> str:
    return base64.urlsafe_b64encode(json.dumps(said).encode()).rstrip(b"=").decode()


_SIGNED = {
    "own": _by_own_key,
    "another": _by_another_key,
    "secret": _by_the_shared_secret,
    "public": _by_the_public_key_as_a_secret,
    "nobody": _by_nobody,
}


@contextmanager
def a_provider() -> Iterator[AProvider]:
    """A provider on a port of its own."""
    port = free_port()
    provider = AProvider(f"http://127.0.0.1:{port}")
    with served(Starlette(routes=provider.routes()), port):
        yield provider
