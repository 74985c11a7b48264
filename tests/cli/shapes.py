# shapes.py - SVG files of the check shapes: bars with notches, connectors of arcs, legs and bodies.
# SPDX-License-Identifier: GPL-3.0-or-later
# mm; y runs down as in SVG.
import math


def svg(paths):
    body = ''.join('<path %sd="%s"/>\n' % ('id="%s" ' % name if name else '', d) for name, d in paths)
    return '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="-50 -50 100 100">\n%s</svg>\n' % body


def u_notch_bar(h, r, depth, length, double=False):
    """Strip of `depth`, parallel-sided U notch of depth h and radius r from the lower edge (larger y)."""
    x = length / 2
    d = 'M %g 0 ' % -x
    if double:
        d += 'L %g 0 V %g A %g %g 0 0 0 %g %g V 0 ' % (-r, h - r, r, r, r, h - r)
    d += 'H %g V %g H %g V %g A %g %g 0 0 0 %g %g V %g H %g Z' % (x, depth, r, depth - h + r, r, r, -r, depth - h + r, depth, -x)
    return svg([('', d)])


def side(y0, r, opening_deg, depth, reach, down):
    """One outline of a connector: arc of radius r at y0, legs to `depth`, straight bodies to +-reach."""
    turn = math.radians(90 - opening_deg / 2)
    half = math.radians(opening_deg / 2)
    dx, dy = r * math.sin(turn), r * (1 - math.cos(turn))
    foot = dx + (depth - dy) / math.cos(half) * math.sin(half)
    s = 1 if down else -1
    return 'M %.9f %.9f H %.9f L %.9f %.9f A %g %g 0 0 %d %.9f %.9f L %.9f %.9f H %.9f' % (
        -reach, y0 + s * depth, -foot, -dx, y0 + s * dy, r, r, 1 if down else 0, dx, y0 + s * dy, foot, y0 + s * depth, reach)


def connector(r, opening_deg, width, plan_radius, height=4.0, depth=2.5, body=8.0, reach=8.0, section=None):
    plan = body / 2 - width / 2
    return svg([('gingival', side(height / 2, r, opening_deg, depth, reach, True)),
                ('occlusal', side(-height / 2, 0.5, 90, 1.25, reach, False)),
                ('buccal', side(-width / 2, plan_radius, 90, plan, reach, False)),
                ('lingual', side(width / 2, plan_radius, 90, plan, reach, True))] +
               ([('section', section)] if section else []))
