"""A browser without a window, by the W3C's WebDriver protocol: Debian's chromium
and chromium-driver, and nothing but Python's own library."""
import base64
import json
import re
import shutil
import subprocess
import tempfile
import time
import urllib.error
import urllib.request

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"


def missing():
    """The packages that are not there."""
    return [package for command, package in (("chromium", "chromium"),
                                             ("chromedriver", "chromium-driver"))
            if not shutil.which(command)]


class Browser:
    """With a window of that size. A phone has a finger for a mouse."""

    def __init__(self, wide, high, finger=False):
        self.home = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        self.driver = subprocess.Popen(
            ["chromedriver", "--port=0"], stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL, text=True)
        self.at = f"http://127.0.0.1:{self._port()}"
        options = {
            "args": ["--headless=new", "--no-sandbox", "--disable-gpu",
                     "--disable-dev-shm-usage", "--hide-scrollbars",
                     "--disable-background-networking", "--no-first-run",
                     f"--user-data-dir={self.home.name}",
                     f"--window-size={wide},{high}"],
            "perfLoggingPrefs": {"enableNetwork": True},
            "mobileEmulation": {"deviceMetrics": {
                "width": wide, "height": high, "pixelRatio": 1, "touch": finger}},
        }
        answer = self._ask("POST", "/session", {"capabilities": {"alwaysMatch": {
            "browserName": "chrome", "goog:chromeOptions": options,
            "goog:loggingPrefs": {"browser": "ALL", "performance": "ALL"}}}})
        self.session = f"/session/{answer['sessionId']}"

    def _port(self):
        for line in self.driver.stdout:
            found = re.search(r"started successfully on port (\d+)", line)
            if found:
                return int(found.group(1))
        raise RuntimeError("chromedriver does not start")

    def _ask(self, how, path, what=None):
        request = urllib.request.Request(
            self.at + path, method=how,
            data=None if what is None else json.dumps(what).encode())
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            said = json.load(error)["value"]
            raise RuntimeError(f"{path}: {said['message']}") from None

    def ask(self, how, path, what=None):
        return self._ask(how, self.session + path, what)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        try:
            self.ask("DELETE", "")
        finally:
            self.driver.terminate()
            self.driver.wait()
            self.driver.stdout.close()
            self.home.cleanup()

    def open(self, path):
        self.ask("POST", "/url", {"url": f"file://{path}"})

    def run(self, script, *given):
        return self.ask("POST", "/execute/sync", {"script": script, "args": list(given)})

    def wait_for(self, script, *given):
        """What the script answers, once that is something; waits 10 s."""
        for _ in range(200):
            answer = self.run(script, *given)
            if answer:
                return answer
            time.sleep(0.05)
        raise RuntimeError(f"not within 10 s: {script}")

    def log(self, of):
        return self.ask("POST", "/se/log", {"type": of})

    def tap(self, x, y, finger=False):
        """At a place of the window, as a person would."""
        kind = "touch" if finger else "mouse"
        self.ask("POST", "/actions", {"actions": [{
            "type": "pointer", "id": kind, "parameters": {"pointerType": kind},
            "actions": [{"type": "pointerMove", "duration": 0, "x": round(x), "y": round(y)},
                        {"type": "pointerDown", "button": 0},
                        {"type": "pause", "duration": 40},
                        {"type": "pointerUp", "button": 0}]}]})
        self.ask("DELETE", "/actions")

    def keys(self, words):
        """To whatever has the focus."""
        actions = [{"type": kind, "value": key} for key in words
                   for kind in ("keyDown", "keyUp")]
        self.ask("POST", "/actions", {"actions": [{
            "type": "key", "id": "keys", "actions": actions}]})

    def picture(self, path):
        with open(path, "wb") as file:
            file.write(base64.b64decode(self.ask("GET", "/screenshot")))
