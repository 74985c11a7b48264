#!/usr/bin/env python3
# test_import.py - a surface and drawings brought into an open case as a person does it, and undone.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_import.py SOFFIT SOFFIT_CLI SOURCE_ROOT.  Needs what test_window.py needs.
import os
import re
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)
sys.path.insert(0, os.path.join(HERE, '..', 'cli'))
import surfaces
from person import Window, check, look, nameless, outside, peak_of, press, start, stop, xdo


def sheet(window, name):
    return look('the sheet', lambda: next((w for w in window.app if w.name == name and
                                           w.getState().contains(window.atspi.STATE_SHOWING)), None))


def inside(window, top, pattern):
    return next((a for a in window.shown(top) if re.search(pattern, a.name or '')), None)


def taken(window, name):
    check(look('one step to undo', lambda: window.named('^Undo: ' + name)), 'it is one step:', name)


def surface(window, before):
    top = sheet(window, 'Outlines from a surface')
    look('the necks', lambda: inside(window, top, '3 necks found'))
    check(inside(window, top, 'after firing') is not None, 'the size after firing is asked for')
    check(any(a.name.startswith('Bridge from the cheek') and a.getState().contains(window.atspi.STATE_FOCUSABLE)
              for a in window.shown(top)), 'the keys reach the picture')
    check(not (found := nameless(window, top, 9)), 'everything that takes the focus has a name in the sheet', *found)
    press(look('the button', lambda: inside(window, top, '^Take over$')))
    look('the sheet gone', lambda: not any(w.name == 'Outlines from a surface' for w in window.app))
    taken(window, 'Take outlines from a surface')
    after = look('another answer', lambda: (p := peak_of(window, '35/36')) and p != before and p)
    check(0 < after < before, 'the traced arch is judged:', before, '->', after, 'MPa')
    xdo('windowfocus', look('the window alone', window.find_id), 'key', 'ctrl+z')
    check(look('the V again', lambda: peak_of(window, '35/36') == before), 'Ctrl+Z brings all connectors back')


def opened(program, case, other):
    import pyatspi
    process = start(program, case, other)
    return Window(pyatspi, process), process


def use(program, cli, root, folder):
    case = os.path.join(root, 'data', 'demo', 'QB-02.xml')
    path = {name: os.path.join(folder, name) for name in ('row.stl', 'bad.stl', 'four.svg', 'one.svg')}
    with open(path['row.stl'], 'wb') as f:
        f.write(surfaces.binary(surfaces.row(4, pitch=35.5 / 4, mouth=3.2)))
    with open(path['bad.stl'], 'w') as f:
        f.write('solid bad\nvertex 0 0 0\n')
    with open(path['one.svg'], 'w') as f:
        f.write('<svg xmlns="http://www.w3.org/2000/svg"><path d="M20 30H24C24 28 26 27.6 27.5 27.6S31 28 31 30H36"/></svg>')
    subprocess.run([cli, 'drawing', case, '36-37', '--svg', path['four.svg']], check=True)
    for name in path:
        window, process = opened(program, case, path[name])
        try:
            if name == 'row.stl':
                top = sheet(window, 'Outlines from a surface')
                check(top is not None, 'a surface opens its sheet')
                before = look('the answer at rest', lambda: peak_of(window, '35/36'))
                surface(window, before)
            elif name == 'bad.stl':
                top = sheet(window, 'Outlines from a surface')
                check(look('what is wrong', lambda: inside(window, top, r'bad\.stl:2: ')), 'a bad surface names its line')
            elif name == 'four.svg':
                taken(window, 'Take outlines from a drawing')
            else:
                top = sheet(window, 'Outlines from a drawing')
                check(look('the neck to come', lambda: inside(window, top, '^The neck becomes ')), 'a single line is the gum side')
                press(look('the button', lambda: inside(window, top, '^Take over$')))
                taken(window, 'Take outlines from a drawing')
        finally:
            stop(process)


if __name__ == '__main__':
    if sys.argv[1] == 'inside':
        with tempfile.TemporaryDirectory() as place:
            use(*sys.argv[2:5], place)
    else:
        sys.exit(outside(__file__, sys.argv[1], *sys.argv[2:4]))
