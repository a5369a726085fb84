"""The settings of signing in: what is meant, what is refused by its name, and the way to another program and back."""

from datetime import timedelta

import pytest

from county.errors import BadSetting
from county.settings import settings_from
from county.signing_settings import Provider, Signing, as_said, signing_from

OIDC = {
    "OIDC_ISSUER": "https://id.county.example/",
    "OIDC_CLIENT_ID": "board",
    "OIDC_CLIENT_SECRET": "s3cret",
    "BOARD_ADDRESS": "https://board.county.example",
}


def test_without_a_word_an_hour_without_use_and_a_day_in_all() -> None:
    assert settings_from({}).signing == Signing(timedelta(minutes=60), timedelta(hours=24))


def test_a_provider_is_read_whole() -> None:
    told = settings_from({f"POLLRISE_{name}": value for name, value in OIDC.items()}).signing
    assert told.provider == Provider("https://id.county.example", "board", "s3cret", "email")
    assert told.secure
    assert signing_from({**OIDC, "OIDC_CLAIM": "preferred_username"}).provider == Provider(
        "https://id.county.example", "board", "s3cret", "preferred_username"
    )


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ({"IDLE_MINUTES": "0"}, "POLLRISE_IDLE_MINUTES"),
        ({"IDLE_MINUTES": "1441"}, "POLLRISE_IDLE_MINUTES"),
        ({"IDLE_MINUTES": "an hour"}, "POLLRISE_IDLE_MINUTES"),
        ({"SIGNED_IN_HOURS": "-1"}, "POLLRISE_SIGNED_IN_HOURS"),
        ({"BOARD_ADDRESS": "board.county.example"}, "POLLRISE_BOARD_ADDRESS"),
        ({"BOARD_ADDRESS": "https://board.county.example/board"}, "POLLRISE_BOARD_ADDRESS"),
        ({"PROXIES": "the proxy"}, "POLLRISE_PROXIES"),
        ({**OIDC, "OIDC_ISSUER": "http://id.county.example"}, "POLLRISE_OIDC_ISSUER"),
        ({**OIDC, "OIDC_ISSUER": "http://127.0.0.1.elsewhere.example"}, "POLLRISE_OIDC_ISSUER"),
        ({**OIDC, "OIDC_CLIENT_SECRET": ""}, "POLLRISE_OIDC_CLIENT_SECRET"),
        ({**OIDC, "BOARD_ADDRESS": ""}, "POLLRISE_BOARD_ADDRESS"),
        ({**OIDC, "OIDC_CLAIM": "e mail"}, "POLLRISE_OIDC_CLAIM"),
    ],
)
def test_a_bad_value_is_refused_by_its_name(said: dict[str, str], name: str) -> None:
    with pytest.raises(BadSetting) as refused:
        signing_from(said)
    assert str(refused.value).startswith(name)
    assert "s3cret" not in str(refused.value)


@pytest.mark.parametrize("said", [{}, OIDC, {"IDLE_MINUTES": "7", "SIGNED_IN_HOURS": "3", "PROXIES": "127.0.0.1, ::1"}])
def test_another_program_reads_the_same(said: dict[str, str]) -> None:
    once = signing_from(said)
    assert signing_from({name: value for name, value in as_said(once).items() if value}) == once


def test_what_is_not_said_is_not_taken_over_from_the_environment_of_another() -> None:
    assert as_said(Signing())["BOARD_ADDRESS"] == ""
    assert as_said(Signing())["OIDC_ISSUER"] == ""
