"""A certificate authority of this server's own, for a set without internet: `tailslate serve --tls`.

The authority's key stays in the data folder, readable by its owner only. The server's certificate is made anew
when a name is missing from it or it soon ends. Ages keep to what phones accept (825 days at most for a server).
"""

from __future__ import annotations

import datetime
import ipaddress
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

AUTHORITY_DAYS = 5 * 365
SERVER_DAYS = 397
RENEW_DAYS = 30


@dataclass(frozen=True)
class Certificates:
    """Files: what phones are asked to trust, and what the server shows them."""

    authority: Path
    server: Path
    server_key: Path
    fingerprint: str


def certificates(folder: Path, names: Iterable[str], now: datetime.datetime) -> Certificates:
    """Return the certificates in a folder, made or renewed as needed.

    Args:
        folder: where they are kept; made when missing.
        names: host names and addresses that phones may use.
        now: the time, with its zone.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    authority_file, authority_key_file = folder / "authority.crt", folder / "authority.key"
    if not authority_file.exists() or not authority_key_file.exists():
        _make_authority(authority_file, authority_key_file, now)
    authority = x509.load_pem_x509_certificate(authority_file.read_bytes())
    server_file, server_key_file = folder / "server.crt", folder / "server.key"
    wanted = sorted(set(names))
    if (
        not server_file.exists()
        or not server_key_file.exists()
        or not _still_fits(server_file, wanted, authority, now)
    ):
        authority_key = serialization.load_pem_private_key(authority_key_file.read_bytes(), None)
        if not isinstance(authority_key, ec.EllipticCurvePrivateKey):
            raise TypeError(f"{authority_key_file} is no elliptic-curve key; remove it and start again")
        _make_server(server_file, server_key_file, wanted, authority, authority_key, now)
    digest = authority.fingerprint(hashes.SHA256()).hex(":").upper()
    return Certificates(authority_file, server_file, server_key_file, digest)


def _make_authority(file: Path, key_file: Path, now: datetime.datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Tailslate on this set, {now:%Y-%m-%d}")])
    certificate = (
        _builder(name, name, key.public_key(), now, AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_key_usage(signs_certificates=True), critical=True)
        .sign(key, hashes.SHA256())
    )
    _write_key(key_file, key)
    file.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))


def _make_server(
    file: Path,
    key_file: Path,
    names: list[str],
    authority: x509.Certificate,
    authority_key: ec.EllipticCurvePrivateKey,
    now: datetime.datetime,
) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Tailslate server")])
    certificate = (
        _builder(subject, authority.subject, key.public_key(), now, SERVER_DAYS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_key_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([_general_name(name) for name in names]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key()), critical=False
        )
        .sign(authority_key, hashes.SHA256())
    )
    _write_key(key_file, key)
    file.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    public_key: ec.EllipticCurvePublicKey,
    now: datetime.datetime,
    days: int,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(public_key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - datetime.timedelta(days=1))  # phones with a clock that is behind
        .not_valid_after(now + datetime.timedelta(days=days))
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(public_key), critical=False)
    )


def _key_usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _still_fits(file: Path, names: list[str], authority: x509.Certificate, now: datetime.datetime) -> bool:
    certificate = x509.load_pem_x509_certificate(file.read_bytes())
    held = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    ends_late = certificate.not_valid_after_utc > now + datetime.timedelta(days=RENEW_DAYS)
    return (
        ends_late
        and certificate.issuer == authority.subject
        and {_general_name(name) for name in names} <= set(held)
    )


def _general_name(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _write_key(file: Path, key: ec.EllipticCurvePrivateKey) -> None:
    octets = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    file.unlink(missing_ok=True)
    with os.fdopen(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as opened:
        opened.write(octets)
