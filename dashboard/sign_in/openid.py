"""OpenID Connect: the county's own sign-in says who somebody is, and nothing it says is believed without its signature.

Authorization code with PKCE; state, nonce, issuer, audience, times and signature are checked (OpenID Connect Core 1.0,
3.1.3.7). What the provider is asked and answers goes from server to server; the browser carries only codes.
"""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any
from urllib.parse import quote_plus

import httpx
from authlib.common.errors import AuthlibBaseError
from authlib.oauth2.rfc6749.parameters import prepare_grant_uri
from authlib.oauth2.rfc7636 import create_s256_code_challenge
from authlib.oidc.core import CodeIDToken
from joserfc import jwt
from joserfc.errors import JoseError
from joserfc.jwk import KeySet

from county.errors import NotAllowed
from county.signing_settings import Provider

WITHIN_SECONDS = 10.0
SCOPE = "openid email profile"
BASIC = "client_secret_basic"
LEEWAY_SECONDS = 60
TRUSTED = ("RS256", "RS384", "RS512", "PS256", "ES256", "ES384", "EdDSA")
"""Signatures by a key that only the provider has; never `none`, and never one made with a shared secret."""
LASTS = timedelta(minutes=10)


class NotTrusted(NotAllowed):
    """The provider, or what came back from it, is not what it should be; says what in a few words."""


@dataclass(frozen=True, slots=True)
class Journey:
    """A person on the way to the provider and back: what must come back with them, and where they wanted to go."""

    state: str
    nonce: str
    verifier: str
    to: str

    @classmethod
    def begun(cls, to: str) -> "Journey":
        return cls(secrets.token_urlsafe(24), secrets.token_urlsafe(24), secrets.token_urlsafe(48), to)


@dataclass(slots=True)
class OpenId:
    """The county's provider, as its own description says; read once, when it is first needed."""

    provider: Provider
    back: str
    _described: Mapping[str, Any] = field(default_factory=dict)

    async def way_there(self, journey: Journey) -> str:
        """The provider's address for this journey. Raises NotTrusted where the provider cannot be reached."""
        described = await self._description()
        return str(
            prepare_grant_uri(
                described["authorization_endpoint"],
                self.provider.client_id,
                "code",
                redirect_uri=self.back,
                scope=SCOPE,
                state=journey.state,
                nonce=journey.nonce,
                code_challenge=create_s256_code_challenge(journey.verifier),
                code_challenge_method="S256",
            )
        )

    async def whom(self, journey: Journey, came_back: Mapping[str, str]) -> str:
        """What the provider calls the person who came back. Raises NotTrusted where anything is amiss."""
        if not secrets.compare_digest(journey.state.encode(), came_back.get("state", "").encode()):
            raise NotTrusted("another state than was sent")
        if "code" not in came_back:
            raise NotTrusted(f"the provider says {came_back.get('error', 'nothing')[:80]}")
        described = await self._description()
        try:
            async with self._client() as client:
                token = await self._token(client, described, came_back["code"], journey.verifier)
                keys = await self._read(client, described["jwks_uri"])
        except (httpx.HTTPError, ValueError, KeyError) as error:
            raise NotTrusted(f"no token ({type(error).__name__})") from error
        return self._subject(self._claims(token, keys, journey, described["issuer"]))

    def _claims(self, token: Mapping[str, Any], keys: Any, journey: Journey, issuer: str) -> Mapping[str, Any]:
        try:
            read = jwt.decode(str(token.get("id_token", "")), KeySet.import_key_set(keys), algorithms=list(TRUSTED))
            claims = CodeIDToken(
                read.claims,
                read.header,
                {
                    "iss": {"essential": True, "value": issuer},
                    "aud": {"essential": True, "value": self.provider.client_id},
                },
                {
                    "nonce": journey.nonce,
                    "client_id": self.provider.client_id,
                    "access_token": token.get("access_token"),
                },
            )
            claims.validate(leeway=LEEWAY_SECONDS)
        except (JoseError, AuthlibBaseError, ValueError, TypeError, KeyError) as error:
            raise NotTrusted(f"an answer that is not to be trusted ({type(error).__name__}: {error})"[:190]) from error
        return dict(claims)

    def _subject(self, claims: Mapping[str, Any]) -> str:
        name = self.provider.claim
        said = claims.get(name)
        if not isinstance(said, str) or not said.strip():
            raise NotTrusted(f"the provider does not say {name}")
        if name == "email" and claims.get("email_verified") is not True:
            raise NotTrusted("the provider has not verified the e-mail address")
        return said.strip()

    async def _description(self) -> Mapping[str, Any]:
        if not self._described:
            address = f"{self.provider.issuer}/.well-known/openid-configuration"
            try:
                async with self._client() as client:
                    found = await self._read(client, address)
            except (httpx.HTTPError, ValueError) as error:
                raise NotTrusted(f"the provider cannot be reached ({type(error).__name__})") from error
            if not isinstance(found, dict) or str(found.get("issuer", "")).rstrip("/") != self.provider.issuer:
                raise NotTrusted("the provider calls itself by another name")
            self._described = found
        return self._described

    async def _token(
        self, client: httpx.AsyncClient, described: Mapping[str, Any], code: str, verifier: str
    ) -> Mapping[str, Any]:
        """What the provider gives for a code, asked in this board's own name (RFC 6749, 4.1.3)."""
        form = {
            "grant_type": "authorization_code",
            "code": code,
            "redirect_uri": self.back,
            "code_verifier": verifier,
        }
        name, secret = self.provider.client_id, self.provider.client_secret
        ways = described.get("token_endpoint_auth_methods_supported", [BASIC])
        if BASIC in ways:
            # RFC 6749, 2.3.1: both are written as in a form before they are joined
            auth = httpx.BasicAuth(quote_plus(name), quote_plus(secret))
            answer = await client.post(described["token_endpoint"], data=form, auth=auth)
        else:
            own = {"client_id": name, "client_secret": secret}
            answer = await client.post(described["token_endpoint"], data=form | own)
        found = answer.raise_for_status().json()
        if not isinstance(found, dict):
            raise ValueError("the answer is no token")
        return found

    async def _read(self, client: httpx.AsyncClient, address: str) -> Any:
        return (await client.get(address)).raise_for_status().json()

    def _client(self) -> httpx.AsyncClient:
        # a proxy of this machine's own is no way to this machine
        return httpx.AsyncClient(timeout=WITHIN_SECONDS, trust_env=self.provider.issuer.startswith("https://"))
