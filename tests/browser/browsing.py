"""The bench page in a real browser: pages written by the command line, opened as files, driven by hand.

A page is read by what the browser shows and by the plan's JSON. Nothing of handkit is imported but its
command line, which is run with a maker's words.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any, NamedTuple

from click.testing import CliRunner
from selenium.webdriver import Chrome, ChromeOptions
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait

from handkit.cli import main

SAMPLES = Path(__file__).parents[2] / "samples"
QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # No network: no name has an address, and what is sent goes to a port where nobody listens.
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--proxy-server=127.0.0.1:9",
)


class Screen(NamedTuple):
    """What a page is looked at with: a size in its pixels, the colours that are wished."""

    width: int
    height: int
    dark: bool = False

    def __str__(self) -> str:
        return f"{self.width} x {self.height}, {'dark' if self.dark else 'light'}"


PHONE = Screen(360, 740)
SCREENS = [Screen(*size, dark) for size in ((360, 740), (1280, 800)) for dark in (False, True)]


def written(project: Path, form: str) -> Path:
    """What `plan` writes of a project, beside it."""
    path = project.with_suffix(f".{form}")
    run = CliRunner().invoke(main, ["plan", str(project), "--format", form, "-o", str(path)])
    assert run.exit_code == 0, run.output
    return path


def sample(name: str) -> str:
    (project,) = (SAMPLES / name).glob("*.toml")
    return project.read_text("utf-8")


def plan_of(page: Path) -> dict[str, Any]:
    """The plan's JSON of the project that a page is of."""
    plan: dict[str, Any] = json.loads(written(page.with_suffix(".toml"), "json").read_text("utf-8"))
    return plan


class Bench:
    """A browser, and what one does with it."""

    def __init__(self, profile: Path) -> None:
        self.opened: set[str] = set()
        options = ChromeOptions()
        options.binary_location = shutil.which("chromium") or ""
        for word in (*QUIET, f"--user-data-dir={profile}"):
            options.add_argument(word)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        self.driver = Chrome(options=options, service=Service(shutil.which("chromedriver")))

    def screen(self, screen: Screen) -> None:
        size = {"width": screen.width, "height": screen.height, "deviceScaleFactor": 1}
        size["mobile"] = screen.width < 500
        wish = {"name": "prefers-color-scheme", "value": "dark" if screen.dark else "light"}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [wish]})

    def open(self, page: Path) -> None:
        """Once all of it is loaded and its script has run: a browser that is behind may answer before."""
        self.opened.add(page.as_uri())
        self.driver.get("about:blank")
        self.driver.get(page.as_uri())
        loaded = "return document.readyState === 'complete' && location.href === arguments[0]"
        WebDriverWait(self.driver, 60).until(lambda _: self.run(loaded, page.as_uri()))

    def turn_to(self, leaf: str) -> None:
        """As a link in the contents does."""
        self.driver.execute_async_script(
            "const [to, done] = arguments;"
            "if (location.hash === to) return done();"
            "addEventListener('hashchange', () => done(), {once: true}); location.hash = to",
            f"#{leaf}",
        )

    def run(self, script: str, *given: Any) -> Any:
        return self.driver.execute_script(script, *given)

    def find(self, selector: str) -> WebElement:
        return self.driver.find_element(By.CSS_SELECTOR, selector)

    def all(self, selector: str) -> list[WebElement]:
        return self.driver.find_elements(By.CSS_SELECTOR, selector)

    def touch(self, what: WebElement | str) -> None:
        """Brings it to where a thumb is, and touches it."""
        element = self.find(what) if isinstance(what, str) else what
        self.run("arguments[0].scrollIntoView({block: 'center'})", element)
        element.click()
        # What a link leads to is shown before the next picture of the screen is.
        self.driver.execute_async_script(
            "const done = arguments[0]; requestAnimationFrame(() => requestAnimationFrame(() => done()))"
        )

    def complaints(self) -> list[str]:
        return [entry["message"] for entry in self.driver.get_log("browser")]

    def asked_for(self) -> list[str]:
        """Every address that was asked for, since this was last called."""
        events = (json.loads(entry["message"])["message"] for entry in self.driver.get_log("performance"))
        sent = [event["params"] for event in events if event["method"] == "Network.requestWillBeSent"]
        return [each["request"]["url"] for each in sent]

    def press(self, *keys: str) -> None:
        for key in keys:
            self.driver.switch_to.active_element.send_keys(key)

    def focused(self) -> dict[str, Any]:
        """Tag, name and text of what has the focus."""
        told: dict[str, Any] = self.run(
            "const e = document.activeElement; return {tag: e.tagName, id: e.id, text: e.textContent.trim()}"
        )
        return told
