"""TLS with an authority made for one fair: OpenSSL, through Python's ssl, is the judge of every certificate."""

import socket
import ssl
import threading
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from planish.doors.cli.serve import command
from planish.doors.web.installing import FILE, Helper
from planish.errands.hall import authority

NOW = datetime.now(UTC).replace(microsecond=0)
NAMES, ADDRESSES = ("desk.fair.internal", "localhost"), ("127.0.0.1",)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> authority.Authority:
    folder = tmp_path_factory.mktemp("tls")
    return authority.make(folder, names=NAMES, addresses=ADDRESSES, now=NOW)


@contextmanager
def desk(certificate: Path, key: Path) -> Iterator[int]:
    """A TLS server that says hello and hangs up."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(certificate, key)
    server = socket.create_server(("127.0.0.1", 0))

    def serve() -> None:
        while True:
            try:
                plain, _ = server.accept()
            except OSError:
                return
            try:
                with context.wrap_socket(plain, server_side=True) as line:
                    line.sendall(b"hello")
            except OSError:
                plain.close()

    threading.Thread(target=serve, daemon=True).start()
    yield int(server.getsockname()[1])
    server.close()


def meet(port: int, name: str, trusted: Path | None) -> bytes:
    """What a client that trusts only `trusted` hears under a name."""
    context = ssl.create_default_context(cafile=str(trusted) if trusted else None)
    plain = socket.create_connection(("127.0.0.1", port), timeout=10)
    with plain, context.wrap_socket(plain, server_hostname=name) as line:
        return line.recv(5)


def test_a_tablet_that_installed_the_authority_meets_the_desk_by_name_and_by_address(
    made: authority.Authority,
) -> None:
    with desk(made.certificate, made.key) as port:
        for name in (*NAMES, *ADDRESSES):
            assert meet(port, name, made.authority) == b"hello"
        with pytest.raises(ssl.SSLCertVerificationError):
            meet(port, "localhost", None)
        with pytest.raises(ssl.SSLCertVerificationError):
            meet(port, "other.fair.internal", made.authority)


@pytest.mark.parametrize("name", ["bank.example", "10.9.9.9"])
def test_even_with_its_key_the_authority_could_vouch_for_nothing_else(tmp_path: Path, name: str) -> None:
    root_key, key = generate_private_key(SECP256R1()), generate_private_key(SECP256R1())
    root = authority.root_certificate(root_key, NAMES, ADDRESSES, NOW)
    wanted = authority._general(*authority.sorted_out([name]))
    leaf = authority.leaf_certificate(root_key, root, key.public_key(), wanted, NOW)
    (tmp_path / "root.crt").write_bytes(root.public_bytes(Encoding.PEM))
    (tmp_path / "leaf.crt").write_bytes(leaf.public_bytes(Encoding.PEM))
    private = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    (tmp_path / "leaf.key").write_bytes(private)
    refused = pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation")
    with desk(tmp_path / "leaf.crt", tmp_path / "leaf.key") as port, refused:
        meet(port, name, tmp_path / "root.crt")


def test_the_key_of_the_authority_lies_nowhere(made: authority.Authority) -> None:
    root = x509.load_pem_x509_certificate(made.authority.read_bytes())
    files = [file for file in made.authority.parent.parent.rglob("*") if file.is_file()]
    assert sorted(file.name for file in files) == ["authority.crt", "desk.crt", "desk.key"]
    private = [file for file in files if b"PRIVATE KEY" in file.read_bytes()]
    assert private == [made.key]
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    there = load_pem_private_key(made.key.read_bytes(), password=None).public_key()
    assert there != root.public_key()
    assert made.key.stat().st_mode & 0o077 == 0


def test_both_certificates_last_ninety_days_and_hold_for_a_tablet_whose_clock_is_months_behind(
    made: authority.Authority,
) -> None:
    # 825 days: the most that Apple's systems allow for such certificates (developer forum 773796).
    root, leaf = (
        x509.load_pem_x509_certificate(file.read_bytes()) for file in (made.authority, made.certificate)
    )
    for one in (root, leaf):
        assert one.not_valid_after_utc - NOW <= timedelta(days=90)
        assert one.not_valid_after_utc - one.not_valid_before_utc <= timedelta(days=825)
    for days, good in ((-300, True), (0, True), (89, True), (91, False), (-400, False)):
        policy = PolicyBuilder().store(Store([root])).time(NOW + timedelta(days=days))
        verifier = policy.build_server_verifier(x509.DNSName("localhost"))
        if good:
            assert verifier.verify(leaf, [])[-1] == root
        else:
            with pytest.raises(VerificationError):
                verifier.verify(leaf, [])


def test_what_was_made_is_used_again_for_the_same_names_and_not_for_others_or_later(
    made: authority.Authority,
) -> None:
    folder = made.authority.parent.parent
    assert authority.find(folder, names=("localhost",), addresses=ADDRESSES, now=NOW) == made
    assert authority.find(folder, names=("new.internal",), addresses=(), now=NOW) is None
    assert authority.find(folder, names=NAMES, addresses=(), now=NOW + timedelta(days=91)) is None


def test_the_page_that_helps_gives_the_certificate_and_the_words_to_compare(
    made: authority.Authority,
) -> None:
    helper = Helper(made, "https://desk.fair.internal:8000", host="127.0.0.1", port=0)
    try:
        home = f"http://127.0.0.1:{helper.port}"
        shown = urllib.request.urlopen(f"{home}/", timeout=10).read().decode()
        assert made.words in shown
        assert made.digest in shown
        assert "Certificate Trust Settings" in shown
        assert all(line in shown for line in authority.LOST_WITHOUT_TLS)
        assert urllib.request.urlopen(f"{home}{FILE}", timeout=10).read() == made.authority.read_bytes()
        with pytest.raises(urllib.error.HTTPError):
            urllib.request.urlopen(f"{home}/../tls/desk.key", timeout=10)
    finally:
        helper.close()


def test_serve_says_what_goes_together(tmp_path: Path) -> None:
    fair = ["--fair", str(tmp_path / "fair")]
    said = CliRunner().invoke(command, [*fair, "--tls", "own-cert"])
    assert said.exit_code == 2
    assert "needs --cert and --key" in said.output
