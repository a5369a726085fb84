"""Somebody who sits down at the board for the first time; every click of theirs is counted."""

from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Locator, Page, expect


@dataclass
class Newcomer:
    """Clicks, types and drops as a person does. Clicking into a field to type there, or dropping files, is a click."""

    page: Page
    did: list[str] = field(default_factory=list)

    @property
    def clicks(self) -> int:
        return len(self.did)

    def clicks_on(self, where: Locator, what: str = "") -> None:
        """One click."""
        self.did.append(what or where.inner_text().strip())
        # what is drawn anew stands there twice for a moment
        expect(where).to_have_count(1)
        where.click()

    def presses(self, button: str) -> None:
        """One click on a button of the page."""
        self.clicks_on(self.page.get_by_role("button", name=button, exact=False).first, button)

    def opens(self, part: str) -> None:
        """One click on a part of the Set-up page, or on a part of the plan."""
        where = self.page.get_by_role("radio", name=part).first
        self.clicks_on(where, part)
        expect(where).to_be_checked()

    def types(self, label: str, text: str) -> None:
        """One click into a field, and the text."""
        self.did.append(f"into {label}")
        where = self.page.get_by_label(label, exact=True)
        # what is drawn anew stands there twice for a moment
        expect(where).to_have_count(1)
        where.click()
        where.fill(text)

    def drops(self, files: list[Path]) -> None:
        """Files dropped at once."""
        self.did.append(f"drops {', '.join(file.name for file in files)}")
        self.page.locator("input[type=file]").set_input_files(files)
