"""The page that helps to install the fair's authority on a tablet, served over plain HTTP on a port of its own.

It gives one page and one file and knows nothing of the fair; a tablet must be able to read it before it trusts the desk.
"""

import html
import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from planish.errands.hall.authority import LOST_WITHOUT_TLS, Authority

FILE = "/fair-authority.crt"
STYLE = (
    "body{font:1.15rem/1.5 system-ui,sans-serif;max-width:40rem;margin:0 auto;padding:1rem;color:#1d1d1b;background:#fff}"
    "a.file{display:inline-block;padding:.9rem 1.2rem;background:#1d1d1b;color:#fff;text-decoration:none}"
    "code{font-size:1.05rem;overflow-wrap:anywhere}"
)
STEPS = (
    (
        "iPhone and iPad",
        (
            "Open this page in Safari and touch the button. Allow the profile.",
            "Settings, General, VPN & Device Management: install the profile.",
            "Settings, General, About, Certificate Trust Settings: switch it on. Without this last step nothing works.",
            "Add planish to the home screen first, then pair inside it.",
        ),
    ),
    (
        "Android",
        (
            "Touch the button; the file is saved.",
            "Settings, Security, More security settings, Install a certificate, CA certificate: choose the file.",
            "Android then says that the network may be monitored. That is this certificate.",
            "Use Chrome; Firefox for Android does not look at it unless told to.",
        ),
    ),
    (
        "A laptop",
        (
            "Windows: open the file, Install, Local machine, Trusted Root Certification Authorities.",
            "macOS: open the file in Keychain Access and set it to Always Trust.",
            "Linux: in the browser's settings, under Certificates, Authorities, import it for websites.",
        ),
    ),
)
"""Menus as they were in 2025 (from memory); they move, so walk through them each spring."""


def page(made: Authority, address: str) -> bytes:
    """The page as HTML; no script, nothing from elsewhere."""
    said = html.escape
    steps = "".join(
        f"<h2>{said(where)}</h2><ol>{''.join(f'<li>{said(one)}</li>' for one in does)}</ol>"
        for where, does in STEPS
    )
    lost = "".join(f"<li>{said(one)}</li>" for one in LOST_WITHOUT_TLS)
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>Let this tablet trust the desk</title><style>{STYLE}</style></head><body>"
        "<h1>Let this tablet trust the desk</h1>"
        "<p>For tablets that belong to the fair. The certificate is good for this desk only, until "
        f"{made.until:%d %B %Y}, and for nothing else: nobody can sign with it any more.</p>"
        f'<p><a class="file" href="{FILE}">Get the certificate</a></p>'
        "<p>Compare before you trust it. The desk's terminal says the same twelve words:</p>"
        f"<p><code>{said(made.words)}</code></p><p>SHA-256 <code>{made.digest}</code></p>{steps}"
        f'<h2>Then</h2><p>Open <a href="{said(address)}">{said(address)}</a>. It must open without a warning; '
        "if there is one, do not touch it away.</p>"
        "<p>After the fair remove the certificate again, where you put it in.</p>"
        f"<h2>Without it</h2><p>Over plain HTTP planish works, and this is lost:</p><ul>{lost}</ul></body></html>"
    ).encode()


class Helper:
    """The small server; `close` ends it."""

    def __init__(self, made: Authority, address: str, *, host: str, port: int) -> None:
        answers = {
            "/": (page(made, address), "text/html; charset=utf-8"),
            FILE: (made.authority.read_bytes(), "application/x-x509-ca-cert"),
        }

        class Handler(BaseHTTPRequestHandler):
            timeout = 10

            def do_GET(self) -> None:
                found = answers.get(self.path)
                self.send_response(200 if found else 404)
                body, kind = found or (b"There is nothing here.\n", "text/plain; charset=utf-8")
                self.send_header("Content-Type", kind)
                self.send_header("Content-Length", str(len(body)))
                self.send_header("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'")
                self.send_header("X-Content-Type-Options", "nosniff")
                self.end_headers()
                self.wfile.write(body)

            def log_message(self, *_: object) -> None:
                """Says nothing."""

        self._server = ThreadingHTTPServer((host, port), Handler)
        self._server.daemon_threads = True
        self.port = int(self._server.server_address[1])
        self._thread = threading.Thread(target=self._server.serve_forever, name="helper", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """End it."""
        self._server.shutdown()
        self._server.server_close()
