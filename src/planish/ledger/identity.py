"""Event ids: UUID version 7 (RFC 9562, section 5.7) from a time and random bytes that come in as arguments.

An id is never a secret and never used for order.
"""


def uuid7(ms: int, chance: bytes) -> str:
    """48 bits of Unix milliseconds, version 7, variant 10, and 74 bits of `chance` (10 bytes; 6 bits unused)."""
    if len(chance) != 10 or not 0 <= ms < 1 << 48:
        raise ValueError("10 random bytes and a time below 2^48 ms")
    bits = int.from_bytes(chance, "big")
    rand_a, rand_b = (bits >> 62) & 0xFFF, bits & ((1 << 62) - 1)
    value = ms << 80 | 0x7 << 76 | rand_a << 64 | 0b10 << 62 | rand_b
    text = f"{value:032x}"
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))
