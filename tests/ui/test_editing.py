#!/usr/bin/env python3
# test_editing.py - editing with the keyboard alone: knots, sizes typed, snapping, measuring, the list of steps.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_editing.py SOFFIT.  Needs what test_window.py needs, whose looking and pressing it uses; what is heard is what a screen
# reader is told.
import os
import re
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import Window, check, drawing_of, extents, look, nameless, outside, peak_of, press, start, stop, xdo

CONNECTOR = '35/36'


NUMBER = r'(−?[\d.]+)'


def number(text):
    return float(text.replace('−', '-'))


def mm(value):
    return re.escape(('%.2f' % (value + 0.0)).replace('-', '−'))


def told(window, pattern):
    """What the drawing says last."""
    drawing = drawing_of(window, CONNECTOR)
    return drawing and re.search(pattern, drawing.description or '')


def keys(window, names, what, pattern):
    for name in names.split():
        xdo('key', name)
    return look(what, lambda: told(window, pattern))


def reading(window, name):
    found = window.named(r'^%s: [\d.]+' % name)
    return found and float(re.search(r': ([\d.]+)', found.name)[1])


def knots(window):
    place = keys(window, 'k n n n n', 'a knot chosen', r'^Knot 4 of (\d+), (smooth|sharp): %s, %s mm$' % (NUMBER, NUMBER))
    n, kind, x, y = int(place[1]), place[2], number(place[3]), number(place[4])

    def at(kind, y):
        return '^Knot 4 of %d, %s: %s, %s mm$' % (n, kind, mm(x), mm(y))
    keys(window, 'Up', 'up by 0.1 mm', at(kind, y + 0.1))
    keys(window, 'shift+Up', 'by 0.01 mm more', at(kind, y + 0.11))
    keys(window, 'Down shift+Down', 'back again', at(kind, y))
    other = 'sharp' if kind == 'smooth' else 'smooth'
    keys(window, 't', 'turned ' + other, at(other, y))
    check(True, 'knots go by 0.1 and 0.01 mm and are turned', kind, '->', other)
    before = keys(window, 'o', 'its tangent', '^Tangent after knot 4 of %d, %s: %s, %s mm$' % (n, other, NUMBER, NUMBER))
    keys(window, 'Left', 'the tangent moved', '^Tangent after knot 4 of %d, %s: %s, ' % (n, other, mm(number(before[1]) - 0.1)))
    keys(window, 'a', 'a knot more', '^Knot added$')
    keys(window, 'n', 'one more', r'^Knot \d+ of %d,' % (n + 1))
    keys(window, 'p Delete', 'the knot removed', '^Knot removed$')
    keys(window, 'n', 'as many as before', r'^Knot 1 of %d,' % n)
    keys(window, 'x', 'mirrored', '^The right flank is the left one mirrored$')
    check(True, 'tangent, added and removed knot, mirrored flank are told')


def steps(window, before):
    """Back to the case as opened, by the list."""
    xdo('key', 'ctrl+h')
    names = look('the list of steps', lambda: [a.name for a in window.shown() if a.getRoleName() == 'list item' and
                                               re.search(r'(MPa \(|never solved)', a.name or '')])[::-1]  # shown() goes from below
    print('#', *names, sep='\n#   ')
    check(names[0].startswith('Mirror the left flank: ') and names[0].endswith('at hand'), 'the newest step first', names[0])
    check(names[-1].startswith('As opened: %d MPa (' % before), 'the case as opened last, with its peak', names[-1])
    check(not (found := nameless(window)), 'everything in the list has a name', *found)
    xdo('key', 'End', 'key', 'Return')
    look('the case as opened', lambda: window.named('^As opened: .* at hand$'))
    xdo('key', 'Escape')
    check(look('the old peak', lambda: peak_of(window, CONNECTOR) == before), 'choosing a step goes there')
    look('nothing to undo', lambda: window.named('^Undo$') and window.named('^Redo: '))


def sizes(window, before):
    xdo('key', 'e')
    look('the entry', lambda: next((a for a in window.shown() if a.name == 'Roof radius' and
                                    a.getState().contains(window.atspi.STATE_FOCUSED)), None))
    xdo('type', '9,9')
    xdo('key', 'Return')
    wrong = look('the range', lambda: window.named(r'^There is no room for that\. Possible here: [\d.]+ to [\d.]+ mm\.$'))
    most = float(re.search(r'to ([\d.]+) mm', wrong.name)[1])
    check(0.6 < most < 9.9, 'a wrong size is answered with what is possible', wrong.name)
    check(not (found := nameless(window)), 'every entry has a name', *found)
    xdo('key', 'ctrl+a')
    xdo('type', '0,60')
    xdo('key', 'Return')
    look('the radius read', lambda: reading(window, 'Roof radius') == 0.6)
    xdo('key', 'Escape')
    after = look('less pull', lambda: (p := peak_of(window, CONNECTOR)) and p < before and p)
    check(after < 0.8 * before, 'a typed radius is drawn:', before, '->', after, 'MPa')
    xdo('key', 'ctrl+h')
    row = look('its step', lambda: window.named(r'^Set roof radius: .*, at hand$'))
    less = int(re.search(r'(\d+) % less pull', row.name)[1])
    check(abs(less - 100 * (before - after) / before) <= 1, 'the list says what it did', row.name)
    xdo('key', 'Escape')
    window.alone()
    xdo('key', 'ctrl+z')
    look('undone', lambda: peak_of(window, CONNECTOR) == before)


def measure(window):
    keys(window, 'l Return', 'the first place', r'^First place: ')
    way = keys(window, 'Return alt+Right Right shift+Right', 'a distance', r'^Two places: 1\.11 mm \((.*?)–(.*?)\), (.*?)°')
    check((way[1], way[2], way[3]) == ('1.09', '1.13', '0.0'), 'a distance with its band', *way.groups())
    keys(window, 'Return Left Left Left Left Left Down Down Down', 'a circle', r'^Three places: radius [\d.]+ mm \([\d.]+–[\d.]+\), ')
    check(window.named('^Undo$'), 'measuring is no step')
    xdo('key', 'Escape', 'key', 'd')


PULL = r'(pulled|squeezed) (\d+) MPa \((−?\d+)–(−?\d+)\)$'
PLACE = r'x %s, y %s mm, ' % (NUMBER, NUMBER)


def mark(window, name):
    """The description of a mark of the drawing, as a reader finds it."""
    marks = window.named('^Marks on the drawing$')
    found = next((a for a in window.shown(marks) if a.name == name and a.getRoleName() == 'list item'), None)
    return found and found.description


def slider(window):
    """The place of the walk as a reader finds it."""
    return next((a for a in window.shown() if a.name == 'Place on the line' and a.getRoleName() == 'slider'), None)


def walk_slider(window, words):
    """It has the focus, its value is the way along the line, its words those of the place; a reader moves it."""
    look('the slider of the walk', lambda: slider(window) and slider(window).description == words)
    at = slider(window)
    check(window.focused() == at, 'the slider has the focus', window.focused())
    value = at.queryValue()
    begin, foot = value.currentValue, slider(window).description
    check(value.minimumValue == 0 and begin < value.maximumValue, 'a place on the line', begin, value.maximumValue)
    xdo('key', 'Left')
    look('the value follows', lambda: abs(at.queryValue().currentValue - (begin - 0.1)) < 0.001)
    check(re.search('^' + PLACE + '.*(radius|straight|corner).*(pulled|squeezed|no stress)', at.description),
          'place, bend and stress in words', at.description)
    value.currentValue = begin  # as a reader does
    look('moved by the reader', lambda: told(window, '^' + re.escape(foot) + '$'))
    check(abs(at.queryValue().currentValue - begin) < 0.001, 'and stays there')


def walking(window, peak):
    """Along the line by keys, heard: place, bend, stress with its band."""
    look('an answer at rest', lambda: window.named('(at rest|refined).* · '))
    hot = keys(window, 'g', 'the hot spot', '^(?:top of the roof, )?(?:neck, )?hot spot.*, %s.*%s' % (PLACE, PULL))
    check(abs(int(hot[4]) - peak) <= 1, 'the walk begins at the hot spot, with the peak:', hot[0])
    told_peak = re.search(r'pulled (\d+) MPa \((\d+)–(\d+)\)', drawing_of(window, CONNECTOR).name)
    check((hot[4], hot[5], hot[6]) == (told_peak[1], told_peak[2], told_peak[3]), 'and with its band', *told_peak.groups())
    foot = keys(window, 'End', 'the right foot', '^right foot, ' + PLACE)
    walk_slider(window, foot.string)
    keys(window, 'End', 'the right foot again', '^right foot, ' + PLACE)
    step = keys(window, 'Left', 'a step', '^%s.*' % PLACE)
    way = ((number(step[1]) - number(foot[1])) ** 2 + (number(step[2]) - number(foot[2])) ** 2) ** 0.5
    check(abs(way - 0.1) < 0.011, 'a step is 0.1 mm', way)
    keys(window, 'shift+Right ' * 5, 'five fine ones back', '^right foot, ')
    seen = [keys(window, 'Home', 'the left foot', '^left foot')[0]]
    for _ in range(8):
        xdo('key', 'Up')
        try_ = look('the next landmark', lambda: told(window, '.*%s.*' % PLACE))
        words = try_[0]
        if words == seen[-1]:
            words = look('it is told', lambda: (t := told(window, '.*')) and t[0])
        if words != seen[-1]:
            seen.append(words)
    marks = ' / '.join(seen)
    check(all(word in marks for word in ('left foot', 'left leg', 'top of the roof', 'hot spot', 'right leg', 'right foot')),
          'up goes from landmark to landmark', marks)
    check(seen[-1].startswith('right foot'), 'and ends at the right foot')
    xdo('key', 'Home')
    look('the slider is there', lambda: (slider(window) and slider(window).description or '').startswith('left foot'))
    check(re.search(r'^pulled %d MPa \(' % peak, mark(window, 'Hot spot')), 'the hot spot is a mark', mark(window, 'Hot spot'))
    for name in ('Neck', 'Room and brush', 'What the embrasure may fill', 'Stress shade', 'Flow of the pull',
                 'Proposed outline, dashed'):
        check(mark(window, name), 'so is', name, mark(window, name))
    check(look('knots', lambda: re.search('^(smooth|sharp), x ', next(
        a for a in window.shown(window.named('^Marks on the drawing$')) if a.name.startswith('Knot 2 of ')).description)), 'and each knot')
    xdo('key', 'shift+p')
    look('hidden aids are no marks', lambda: mark(window, 'Neck') and not mark(window, 'Room and brush'))
    xdo('key', 'shift+p', 'key', 'shift+d')
    check(look('sizes', lambda: re.search(r'^[\d.]+ mm$', mark(window, 'Roof radius') or '')), 'sizes are marks when they are shown')
    xdo('key', 'shift+d', 'key', 'd')
    look('no walk, no place', lambda: mark(window, 'Neck') and not slider(window))
    check(window.focused().name.startswith('Drawing of'), 'the drawing has the focus again')
    check(window.named('^Undo$'), 'walking is no step')


def snapping(window):
    look('snapping', lambda: window.named('^Snapping on$'))
    keys(window, 'h', 'told off', '^Snapping off$')
    look('shown off', lambda: window.named('^Snapping off$'))
    kept = os.path.join(os.environ['XDG_CONFIG_HOME'], 'soffit', 'window.ini')
    check(look('kept', lambda: 'snap=false' in open(kept).read()), 'snapping is remembered')
    keys(window, 'h', 'told on', '^Snapping on$')


def plan(window, before):
    """Cheek and tongue outline by the keyboard, in a window of their own."""
    press(look('its button', lambda: window.named('^Shape: cheek and tongue outline$')))
    title = 'Gum side ' + CONNECTOR
    dialog = window.dialog(title)
    picture = look('the plan', lambda: next((a for a in window.shown(dialog) if (a.name or '').startswith('From the gum side: ')), None))
    check(not (found := nameless(window, dialog, 6)), 'everything in the window of the plan has a name', *found)

    def place(what, pattern):
        return look(what, lambda: re.search(pattern, picture.description or ''))
    window.tab_to('^From the gum side: ', dialog)
    xdo('key', *['Next'] * 5)
    at = place('a point', r'^Cheek side, point 5 of (\d+), (smooth|sharp): %s mm along, %s mm out$' % (NUMBER, NUMBER))
    n, x, out = int(at[1]), number(at[3]), number(at[4])
    xdo('key', 'Up', 'key', 'shift+Up')
    place('0.11 mm out', r': %s mm along, %s mm out$' % (mm(x), mm(out + 0.11)))
    xdo('key', 'a')
    place('a point more', '^Cheek side, point 6 of %d, ' % (n + 1))
    xdo('key', 'Delete')
    place('none chosen', '^No point chosen$')
    xdo('key', 'Prior')
    place('the other side has it too', '^Tongue side, point %d of %d, ' % (n, n))
    xdo('key', 'Delete')
    look('an end stays', lambda: window.named(r'^This is an end of the outline'))
    window.tab_to('^Neck width$', dialog)
    xdo('key', 'ctrl+a', 'type', '4,00')
    xdo('key', 'Return')
    look('its step', lambda: window.named('^Undo: Set neck width$'))
    less = look('a twentieth less pull', lambda: (a := next((re.search(r'most stretched (\d+) MPa', s.name or '') for s in window.shown(dialog)
                                                 if 'most stretched' in (s.name or '')), None)) and int(a[1]) < 0.95 * before and int(a[1]))
    check(less, 'a wider neck is answered in the window:', before, '->', less, 'MPa')
    window.tab_to('^Propose again$', dialog)
    xdo('key', 'space')
    look('given back', lambda: window.named('^Undo: Propose plan again$'))
    window.tab_to('^From the gum side: ', dialog)
    for name in ('Set neck width', 'Remove plan point', 'Add plan point', 'Move plan point'):
        xdo('key', 'ctrl+z')
        look('back to ' + name, lambda: window.named('^Undo: %s$' % name))
    xdo('key', 'ctrl+z')
    look('as it was', lambda: window.named('^Undo$'))
    xdo('key', 'Escape')
    window.dialog_gone(title)
    look('the old peak', lambda: peak_of(window, CONNECTOR) == before)


def menu(window):
    xdo('key', 'shift+F10')
    names = look('the menu', lambda: [a.name for a in window.shown() if 'menu item' in a.getRoleName() and a.name])
    check('Mirror the left flank' in names and 'Exact sizes…' in names, 'the menu of the drawing', *names)
    xdo('key', 'Escape')


def tour(window):
    """By Tab through the whole workspace and back to the drawing: each stop has a name and a role."""
    window.tab_to('^Drawing of connector ')
    xdo('key', 'd')

    def stop():
        at = window.focused()
        return at and (at.getRoleName(), (extents(at).x, extents(at).y), at.name or '')

    last, stops = look('the drawing has the focus', stop), []
    for _ in range(80):
        xdo('key', 'Tab')
        last = look('the next stop', lambda: (now := stop()) and now[:2] != last[:2] and now)
        role, _, name = last
        if name.startswith('Drawing of connector '):
            break
        check(name.strip() and not name.startswith('Gtk') and role not in ('unknown', 'invalid', 'filler', 'panel'),
              'a stop of Tab has name and role:', role, name)
        stops.append(last)
    else:
        check(False, 'Tab comes back to the drawing', *stops[-3:])
    check(len(stops) >= 12 and len(set(stops)) == len(stops), 'Tab goes round, once to each:', len(stops))
    for pattern in ('^Pen: ', '^What the drawing shows$', '^Neck: ', '^Best outline, same room', '^Trial load ', '^34/35: ', '^Menu$'):
        check(any(re.search(pattern, name) for _, _, name in stops), 'among them', pattern)


def use(window):
    before = look('the answer at rest', lambda: peak_of(window, CONNECTOR))
    knots(window)
    look('an answer', lambda: window.named('(at rest|refined|no answer).* · '))
    steps(window, before)
    sizes(window, before)
    measure(window)
    walking(window, before)
    snapping(window)
    plan(window, before)
    menu(window)
    tour(window)
    xdo('key', 'ctrl+q')


def inside(program):
    import pyatspi
    process = start(program, '--demo')
    try:
        use(Window(pyatspi, process))
    finally:
        stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(sys.argv[2]) if sys.argv[1] == 'inside' else outside(__file__, sys.argv[1]))
