# surfaces.py - STL files of a row of units, written independently of the program.
# SPDX-License-Identifier: GPL-3.0-or-later
# mm.  Sections are ellipses; necks lie at whole multiples of the pitch.
import math
import struct


def row(units, along=240, around=72, pitch=9.0, mouth=2.4, neck=(2.2, 6.1, 1.9), body=(0.0, 7.5, 4.0)):
    """Triangles of a closed row along x, z up (as files of the trade mostly have it)."""
    length = pitch * units

    def point(x, k):
        d = abs(math.remainder(x, pitch)) / mouth
        s = 1 if d >= 1 or x < mouth or x > length - mouth else (1 - math.cos(math.pi * d)) / 2
        low, high, half = (n + s * (b - n) for n, b in zip(neck, body))
        a = 2 * math.pi * (k % around) / around
        return (x, half * math.cos(a), (low + high) / 2 + (high - low) / 2 * math.sin(a))
    out = []
    for i in range(along):
        a, b = length * i / along, length * (i + 1) / along
        for k in range(around):
            p, q, r, s = point(a, k), point(a, k + 1), point(b, k), point(b, k + 1)
            out += [(p, s, r), (p, q, s)]
    for x in (0, length):
        middle = tuple(sum(point(x, k)[m] for k in range(around)) / around for m in range(3))
        for k in range(around):
            p, q = point(x, k), point(x, k + 1)
            out.append((middle, p, q) if x else (middle, q, p))
    return out


def binary(triangles, head=b'row of units'):
    data = head.ljust(80) + struct.pack('<I', len(triangles))
    return data + b''.join(struct.pack('<12fH', 0, 0, 0, *[c for p in t for c in p], 0) for t in triangles)


def text(triangles):
    lines = ['solid row']
    for t in triangles:
        lines += ['facet normal 0 0 0', 'outer loop'] + ['vertex %r %r %r' % p for p in t] + ['endloop', 'endfacet']
    return '\n'.join(lines + ['endsolid row', '']).encode()
