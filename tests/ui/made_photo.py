# made_photo.py - an invented photo of an invented neck, drawn by formulas, for the window tests.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# mm in the frame of the connector: a V whose legs touch a round roof, units to both sides, above them a ruler with a tick every mm
# and two long blue ones at RULER_X.  px: u right, v down; ORIGIN is where the neck meets the tissue line.
import math
import operator
import random
import struct
import zlib

PX_MM = 60
WIDTH, HEIGHT = 960, 1000
ORIGIN = (486, 936)
RADIUS, ROOF, FOOT = 0.70, 2.80, 1.60  # of the roof, its height, half the distance of the feet
TOP = 6.5
RULER_X, RULER_Y = (-1, 5), (7.0, 8.0)  # of the blue ticks; of the ruler


def touch():
    """Where the leg from (FOOT, 0) touches the circle of the roof: its angle from straight up, rad."""
    across, down = FOOT, ROOF - RADIUS
    return math.pi / 2 - (math.acos(RADIUS / math.hypot(across, down)) - math.atan2(down, across))


def line(n=24):
    """The gum side from foot to foot: legs and n pieces of the roof."""
    turn = touch()
    arc = [(RADIUS * math.sin(a), ROOF - RADIUS + RADIUS * math.cos(a))
           for a in (turn * (2 * i / n - 1) for i in range(n + 1))]
    foot = (FOOT, 0.0)
    right = [((1 - k / 8) * arc[-1][0] + k / 8 * foot[0], (1 - k / 8) * arc[-1][1]) for k in range(1, 9)]
    return [(-x, y) for x, y in reversed(right)] + arc + right


def half_room(y):
    """Half the embrasure's width at this height, mm."""
    turn = touch()
    x1, y1 = RADIUS * math.sin(turn), ROOF - RADIUS + RADIUS * math.cos(turn)
    if y >= ROOF:
        return -1.0  # all of it is piece
    if y >= y1:
        return math.sqrt(max(0.0, RADIUS ** 2 - (y - ROOF + RADIUS) ** 2))
    return FOOT + (x1 - FOOT) * y / y1


def colour_at(x, y):
    """x px from the neck, y mm."""
    if RULER_Y[0] < y < RULER_Y[1] and abs(x) < 7 * PX_MM:
        tick = abs((x + PX_MM / 2) % PX_MM - PX_MM / 2)
        end = any(abs(x - at * PX_MM) < 3 for at in RULER_X)
        return (20, 20, 225) if end else (30, 30, 30) if tick < 1.5 and y < 7.5 else (228, 228, 224)
    edge = min(1.0, max(0.0, abs(x) - half_room(y) * PX_MM + 0.5)) if 0 < y < TOP else 0.0  # one px soft
    return tuple(round(back + edge * (piece - back)) for back, piece in zip((84, 76, 72), (214, 204, 186)))


def row(v, known):
    """Without noise; rows that are alike are made once."""
    y = (ORIGIN[1] - v) / PX_MM
    kind = (min(y, ROOF) if 0 < y < TOP else 0, RULER_Y[0] < y < RULER_Y[1], y < 7.5)
    if kind not in known:
        known[kind] = b''.join(bytes(colour_at(u - ORIGIN[0], y)) for u in range(WIDTH))
    return known[kind]


def png():
    def chunk(kind, data):
        return struct.pack('>I', len(data)) + kind + data + struct.pack('>I', zlib.crc32(kind + data))
    known, grain = {}, random.Random(7)
    slight = bytes(k >> 4 for k in range(256))  # 0 to 15 of 255
    rows = b''.join(b'\0' + bytes(map(operator.add, row(v, known), grain.randbytes(3 * WIDTH).translate(slight)))
                    for v in range(HEIGHT))
    return (b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', WIDTH, HEIGHT, 8, 2, 0, 0, 0)) +
            chunk(b'IDAT', zlib.compress(rows, 1)) + chunk(b'IEND', b''))
