"""A certificate authority for one fair: good for the desk's names and addresses only, and its key is thrown away at once.

    made = make(folder, names=("desk.fair.internal",), addresses=("10.0.0.1",), now=...)

`tls/authority.crt` is installed on the fair's own tablets, `tls/desk.crt` and `tls/desk.key` serve. Nobody, this desk
included, can sign anything else with the authority: its key never reaches a disk. Another name needs another authority.
"""

import ipaddress
import os
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import (
    SECP256R1,
    EllipticCurvePrivateKey,
    EllipticCurvePublicKey,
    generate_private_key,
)
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from planish.errands.opening.refusing import refuse
from planish.ledger.daywords import words_of

FOLDER = Path("tls")
AUTHORITY, CERTIFICATE, KEY = FOLDER / "authority.crt", FOLDER / "desk.crt", FOLDER / "desk.key"
DAYS = 90
"""How long it is good from now on (house default: a fair with its building up and taking down)."""
BACK_DAYS = 365
"""Dated back, for tablets whose clock is behind. With DAYS well under the 825 days that Apple's systems allow."""
LOST_WITHOUT_TLS = (
    "A tablet cannot be reloaded or started while it is offline.",
    "Events are not signed by the tablet; only the desk attests them.",
    "No live camera picture; photographs go through the file picker.",
    "The browser may delete what it holds; nothing can be asked to stay.",
    "The tablet cannot tell this desk from another under its name.",
    "Everything, ballots and PINs too, crosses the air readable: lock ballots on the wired desk.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Authority:
    """Where the files lie, the SHA-256 of the authority's certificate in hex and as twelve words, and its last day."""

    authority: Path
    certificate: Path
    key: Path
    digest: str
    words: str
    until: datetime


def make(folder: Path, *, names: Sequence[str], addresses: Sequence[str], now: datetime) -> Authority:
    """Make an authority and the desk's certificate. What lay there before is replaced; old tablets install anew."""
    general = _general(names, addresses)
    root_key, desk_key = generate_private_key(SECP256R1()), generate_private_key(SECP256R1())
    root = root_certificate(root_key, names, addresses, now)
    leaf = leaf_certificate(root_key, root, desk_key.public_key(), general, now)
    del root_key
    (folder / FOLDER).mkdir(exist_ok=True)
    private = desk_key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    _write(folder / KEY, private, 0o600)
    _write(folder / CERTIFICATE, leaf.public_bytes(Encoding.PEM), 0o644)
    _write(folder / AUTHORITY, root.public_bytes(Encoding.PEM), 0o644)
    return _found(folder, root)


def find(folder: Path, *, names: Sequence[str], addresses: Sequence[str], now: datetime) -> Authority | None:
    """The authority made earlier, when it is good today and for all these names and addresses."""
    if not all((folder / one).is_file() for one in (AUTHORITY, CERTIFICATE, KEY)):
        return None
    try:
        root = x509.load_pem_x509_certificate((folder / AUTHORITY).read_bytes())
        leaf = x509.load_pem_x509_certificate((folder / CERTIFICATE).read_bytes())
        load_pem_private_key((folder / KEY).read_bytes(), password=None)
    except ValueError:
        return None
    named = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    if leaf.not_valid_after_utc <= now or not {*_general(names, addresses)} <= {*named}:
        return None
    return _found(folder, root)


def sorted_out(said: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names and addresses, each once, from what a person gave mixed."""
    names, addresses = dict[str, None](), dict[str, None]()
    for one in said:
        plain = one.strip("[]")
        try:
            addresses[str(ipaddress.ip_address(plain))] = None
        except ValueError:
            names[plain] = None
    return tuple(names), tuple(addresses)


def _found(folder: Path, root: x509.Certificate) -> Authority:
    digest = root.fingerprint(SHA256())
    return Authority(
        authority=folder / AUTHORITY,
        certificate=folder / CERTIFICATE,
        key=folder / KEY,
        digest=digest.hex(),
        words=words_of(digest),
        until=root.not_valid_after_utc,
    )


def _general(names: Sequence[str], addresses: Sequence[str]) -> list[x509.GeneralName]:
    if not names and not addresses:
        raise refuse(
            "names",
            "There is none.",
            "Say by which name or address tablets reach the desk: --allow-host NAME.",
        )
    try:
        found: list[x509.GeneralName] = [x509.DNSName(name) for name in names]
        found += [x509.IPAddress(ipaddress.ip_address(one)) for one in addresses]
    except ValueError as error:
        raise refuse(
            "names", f"One cannot stand in a certificate ({error}).", "Give plain names and addresses."
        ) from None
    return found


def _subtrees(names: Sequence[str], addresses: Sequence[str]) -> list[x509.GeneralName]:
    """What the authority may vouch for: these names and these addresses, and nothing else in the world.

    A sort that is not named is closed as well: without addresses no address, without names no name.
    """
    permitted: list[x509.GeneralName] = [x509.DNSName(name) for name in names]
    permitted += [x509.IPAddress(ipaddress.ip_network(one)) for one in addresses]
    if not names:
        permitted.append(x509.DNSName("invalid"))  # reserved by RFC 2606: nothing is called so
    if not addresses:
        permitted.append(x509.IPAddress(ipaddress.ip_network("192.0.2.0/32")))  # RFC 5737: for documents only
    return permitted


def root_certificate(
    key: EllipticCurvePrivateKey, names: Sequence[str], addresses: Sequence[str], now: datetime
) -> x509.Certificate:
    """The authority's own certificate, with its name constraints (RFC 5280, section 4.2.1.10)."""
    subject = x509.Name(
        [x509.NameAttribute(NameOID.COMMON_NAME, f"planish, made for one fair on {now:%d %B %Y}")]
    )
    usage = x509.KeyUsage(
        digital_signature=False,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=True,
        crl_sign=True,
        encipher_only=False,
        decipher_only=False,
    )
    permitted = _subtrees(names, addresses)
    return (
        _begun(subject, subject, key.public_key(), now)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(
            x509.NameConstraints(permitted_subtrees=permitted, excluded_subtrees=None), critical=True
        )
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, SHA256())
    )


def leaf_certificate(
    root_key: EllipticCurvePrivateKey,
    root: x509.Certificate,
    key: EllipticCurvePublicKey,
    names: Sequence[x509.GeneralName],
    now: datetime,
) -> x509.Certificate:
    """The desk's certificate."""
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "planish desk")])
    issuer = root.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    return (
        _begun(subject, root.subject, key, now)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(issuer), critical=False)
        .sign(root_key, SHA256())
    )


def _begun(
    subject: x509.Name, issuer: x509.Name, key: EllipticCurvePublicKey, now: datetime
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=BACK_DAYS))
        .not_valid_after(now + timedelta(days=DAYS))
    )


def _write(path: Path, content: bytes, mode: int) -> None:
    part = path.with_name(path.name + ".part")
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, mode)
    with os.fdopen(handle, "wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())
    part.replace(path)
