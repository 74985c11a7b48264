#!/usr/bin/env python3
# test_review_table.py - the queue as a table: names of its cells, order by key and by head, columns, words, facets, all of it kept.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_review_table.py SOFFIT SOFFIT_CLI SOURCE_ROOT.  Left out (77) without the tools that person.py names.
# Outside: Python's csv and json modules read the figures of the same folder and what the window keeps of them, and Python sorts them.
import csv
import io
import json
import os
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import made_cases
from person import PATIENCE_S, Window, check, extents, look, nameless, outside, picture, start, stop, xdo

CASES = 8


def lab_make(folder, cli):
    """Cases of one or two connectors, which are judged quickly; some stand as passed."""
    i = 0
    while len(os.listdir(folder)) < CASES:
        text, number = made_cases.made_case(9, i)
        i += 1
        if text.count('<connector ') <= 2:
            with open(os.path.join(folder, number + '.xml'), 'w', encoding='utf-8') as out:
                out.write(text)
    made_cases.passes_keep([os.path.join(folder, name) for name in os.listdir(folder)], cli)


def rows_of(cli, folder):
    done = subprocess.run([cli, 'lab', '--csv', folder], capture_output=True, text=True, timeout=PATIENCE_S)
    return {row['case']: row for row in csv.DictReader(io.StringIO(done.stdout, newline=''))}


COLUMNS = ('Case', 'Span', 'Material', 'Weakest', 'Verdict', 'Margin', 'Chance', 'Finish', 'Waiting', 'Last hand')


def rows_in(window):
    """The list of rows inside of the table, as long as it is on the screen."""
    if not getattr(window, 'rows', None):
        window.rows = next((child for a in window.shown() if a.getRoleName() == 'tree table' for child in a if child.getRoleName() == 'list'), None)
    return window.rows if window.rows and extents(window.rows).width > 0 else ()


def cases(window):
    """From top to bottom; every row is named by a sentence that begins with its case."""
    return [case for _, case in sorted((extents(row).y, row.name.split(',')[0]) for row in rows_in(window))]


def table(window):
    """What stands in each column, from top to bottom, and where each column begins."""
    found = {column: [] for column in COLUMNS}
    for row in rows_in(window):
        for cell in row:
            column = next((c for c in COLUMNS if (cell.name or '').startswith(c + ' ')), None)
            box = extents(cell)
            if column and box.width > 0:
                found[column].append((box.y, box.x, cell.name[len(column) + 1:]))
    return {column: [text for _, _, text in sorted(all_of)] for column, all_of in found.items()}, {
        column: all_of[0][1] for column, all_of in found.items() if all_of}


def comes(window, what, wanted):
    look(what, lambda: cases(window) == wanted)
    check(True, what)


def order(rows, key, turned=False):
    """By a figure; those without an answer last, equal ones by nothing that is checked here."""
    return [row['case'] for row in sorted((row for row in rows.values() if row[key]), key=lambda row: float(row[key]), reverse=turned)]


def sorting(window, rows):
    by_margin = order(rows, 'margin')
    check(len({rows[case]['margin'] for case in by_margin}) == CASES, 'no two margins are the same')
    xdo('key', '6')
    comes(window, 'the sixth column by its key: small margins first', by_margin)
    margins = look('the margins', lambda: [float(text.split()[0]) for text in table(window)[0]['Margin']])
    check(all(abs(shown - float(rows[case]['margin'])) < 0.0051 for shown, case in zip(margins, by_margin)), 'margins as the table of the command line has them')
    check(look('the order', lambda: window.named('^Order of the cases: By margin$')), 'the list of orders says so too')
    xdo('key', '6')
    comes(window, 'once more: turned round', by_margin[::-1])
    xdo('key', '1')
    comes(window, 'the first column by its key', sorted(rows))
    head = look('the head', lambda: next((a for a in window.shown() if a.name == 'Margin' and a.getRoleName() == 'label'), None))
    box = extents(head)
    xdo('mousemove', box.x + box.width - 2, box.y + box.height // 2, 'click', 1)
    comes(window, 'a click on a head', by_margin)
    xdo('mousemove', box.x + 2, box.y + box.height // 2, 'click', 1)  # elsewhere: GTK takes a double click for one
    comes(window, 'a second click', by_margin[::-1])
    xdo('mousemove', 5, 5)


def words(window, text):
    xdo('key', 'ctrl+f', 'ctrl+a')
    xdo('type', '--delay', 25, text)  # slowly: a busy machine loses capitals
    xdo('key', 'Return')


def narrowing(window, rows, finish):
    hands = [row['last_hand'] for row in rows.values()]
    hand = max(set(hands), key=hands.count)
    mine = sorted(case for case, row in rows.items() if row['last_hand'] == hand)
    check(0 < len(mine) < CASES, 'some are of this hand:', hand, len(mine))
    xdo('key', 'Escape')
    xdo('key', '1')
    words(window, 'hand:"%s"' % hand)
    comes(window, 'words of one column', mine)
    xdo('key', 'ctrl+f', 'ctrl+a', 'Delete', 'Return')
    comes(window, 'without words all of them', sorted(rows))
    finishes = sorted(set(finish.values()))
    one = min(finishes, key=lambda name: list(finish.values()).count(name))
    few = sorted(case for case in finish if finish[case] == one)
    check(0 < len(few) < CASES, 'some have this finish:', one, len(few))
    xdo('key', 'ctrl+f')
    window.tab_to('^Filters$')
    xdo('key', 'space')
    window.tab_to('^Finish$')
    xdo('key', 'space')
    look('the finishes', lambda: window.named('^%s · %d$' % (re.escape(one), len(few))))
    xdo('key', *['Down'] * (finishes.index(one) + 1), 'Return')
    comes(window, 'a finish chosen from those that there are', few)
    picture('review-table-facet')
    xdo('key', 'Escape')
    look('the word', lambda: window.named('^all %d$' % len(few)))
    xdo('key', 'ctrl+f', 'ctrl+a', 'Delete', 'Return')
    comes(window, 'and taken away', sorted(rows))


def columns(window):
    xdo('key', 'ctrl+f')
    window.tab_to('^Columns$')
    xdo('key', 'space')
    window.tab_to('^Finish$')
    xdo('key', 'space')
    look('no finish any more', lambda: not table(window)[0]['Finish'])
    before = look('the chance', lambda: table(window)[1]['Chance'])
    window.tab_to('^Chance: further to the left$', key='ISO_Left_Tab')
    xdo('key', 'space')
    look('the chance before the margin', lambda: table(window)[1]['Chance'] < before)
    check(True, 'a column is hidden, another moved by keys')
    found = look('the names', lambda: [nameless(window)])[0]
    check(not found, 'everything in the menu has a name', *found)
    picture('review-table-columns')
    xdo('key', 'Escape', 'Escape')


HEADS = ['case', 'title', 'file', 'units', 'tooth_first', 'tooth_last', 'material', 'weakest', 'state', 'verdict', 'chance_percent',
         'chance_low_percent', 'chance_high_percent', 'margin', 'margin_low', 'margin_high', 'standing', 'waiting_since', 'last_hand']


def kept_as(window, path):
    """The dialog of the system, by keys; the name replaces the one that is offered."""
    before = set(window.find_ids())
    xdo('key', 'e')
    dialog = look('the dialog', lambda: next((i for i in window.find_ids() if i not in before), None))
    xdo('windowfocus', '--sync', dialog)
    xdo('key', 'ctrl+a', 'type', '--delay', 4, path)
    xdo('key', 'Return')
    look('the dialog gone', lambda: dialog not in window.find_ids())
    xdo('windowfocus', '--sync', window.id)


def keeping(window, rows, folder):
    """In a file: what is shown, in its order; every value is the command line's."""
    hands = [row['last_hand'] for row in rows.values()]
    hand = max(set(hands), key=hands.count)
    words(window, 'hand:"%s"' % hand)
    shown = [case for case in order(rows, 'margin') if rows[case]['last_hand'] == hand]
    comes(window, 'some of the rows, small margins first', shown)
    look('the list has the keys', lambda: window.focused() and window.focused().name.split(',')[0] in rows)
    path = os.path.join(folder, 'kept')
    kept_as(window, path)
    look('the message', lambda: window.named(r'^✓ %d cases? saved in .*kept\.csv\.$' % len(shown)))
    picture('review-table-kept')
    with open(path + '.csv', 'rb') as file:
        raw = file.read()
    check(raw.count(b'\n') == raw.count(b'\r\n') == len(shown) + 1, 'every line ends by CR LF')
    lines = list(csv.reader(io.StringIO(raw.decode(), newline='')))
    check(lines[0] == HEADS, 'the columns that are shown, in their order', lines[0])
    check([line[0] for line in lines[1:]] == shown, 'the rows that are shown, in their order')
    check(all(line == [rows[line[0]][head] for head in HEADS] for line in lines[1:]), 'every value as soffit-cli lab --csv has it')
    kept_as(window, path + '.JSON')
    look('the message', lambda: window.named(r'^✓ .*kept\.JSON\.$'))
    with open(path + '.JSON', encoding='utf-8') as file:
        objects = [json.loads(line) for line in file]
    check([list(one) for one in objects] == [HEADS] * len(shown), 'JSON: the same heads')
    same = [all(str(value) == rows[one['case']][key] if isinstance(value, str) else abs(value - float(rows[one['case']][key])) < 1e-6 * abs(value)
                for key, value in one.items()) for one in objects]
    check([one['case'] for one in objects] == shown and all(same), 'and the same values')
    kept_as(window, path)
    check(look('the message', lambda: window.named(r'^.*kept\.csv is there already')), 'a name that was completed writes over nothing unasked')
    kept_as(window, '/proc/kept.csv')  # where nobody makes a file, root neither
    check(look('the message', lambda: window.named('^/proc/kept.csv: the file was not saved .* choose another folder')),
          'what cannot be written is told, and what to do')
    xdo('key', 'ctrl+f', 'ctrl+a', 'Delete', 'Return')
    look('all rows', lambda: len(cases(window)) == CASES)


def main(program, cli, root):
    import pyatspi
    with tempfile.TemporaryDirectory() as folder:
        lab_make(folder, cli)
        rows = rows_of(cli, folder)
        process = start(program, folder)
        try:
            window = Window(pyatspi, process)
            look('all cases judged', lambda: window.named(r': %d cases$' % CASES))
            window.tab_to('^waiting only$', key='ISO_Left_Tab')
            xdo('key', 'space')
            look('all rows', lambda: window.named('^all %d$' % CASES))
            xdo('key', 'Escape')
            xdo('key', 't')
            names = look('the table', lambda: (t := table(window)[0]) and len(t['Last hand']) == CASES and t)
            check(all(len(found) == CASES for found in names.values()), 'ten columns, every cell with its name', names)
            stands = {'passed': 'passed', 'returned': 'returned', 'drawn': 'being drawn'}
            check('passed' in names['Waiting'] and all(text == stands.get(rows[case]['standing']) or rows[case]['standing'] == 'waits' and text[0].isdigit()
                                                       for case, text in zip(names['Case'], names['Waiting'])), 'how long it waits, or how it stands')
            check(sorted(names['Case']) == sorted(rows) and all(verdict == rows[case]['verdict'] for case, verdict in zip(names['Case'], names['Verdict'])),
                  'the verdicts are those of the command line')
            found = look('the names', lambda: [nameless(window)])[0]
            check(not found, 'everything that takes the focus has a name', *found)
            picture('review-table')
            sorting(window, rows)
            narrowing(window, rows, dict(zip(names['Case'], names['Finish'])))
            columns(window)
            xdo('key', 'Escape', '7')  # chance has moved to the left: now the seventh is the margin
            if order(rows, 'margin') != look('rows', lambda: cases(window)):
                xdo('key', '7')
            with tempfile.TemporaryDirectory() as place:
                keeping(window, rows, place)
            worst = order(rows, 'margin')[0]
            xdo('key', 'Escape')
            xdo('key', '6')  # chance has moved to the left: now the seventh is the margin
            xdo('key', '7')
            look('the worst first', lambda: cases(window)[:1] == [worst])
            xdo('key', 'Home')
            look('it has the focus', lambda: window.focused() and (window.focused().name or '').startswith(worst))
            xdo('key', 'p')  # nobody passes what he does not see
            look('its evidence', lambda: window.named('at the order’s load: ') and not cases(window))
            check(look('its row', lambda: window.named('^%s, ' % worst)), 'a decision shows the evidence first')
            xdo('key', 't')
            look('the table again', lambda: len(cases(window)) == CASES)
            xdo('key', 'Return')
            look('the evidence by Enter', lambda: window.named('at the order’s load: ') and not cases(window))
            xdo('key', 't')
            look('the table', lambda: len(cases(window)) == CASES)
            stop(process)
            process = start(program, folder)
            window = Window(pyatspi, process)
            look('rows', lambda: window.named(r': %d cases$' % CASES) and len(cases(window)) > 0)
            place = look('the columns', lambda: table(window)[1])
            check('Finish' not in place and place['Chance'] < place['Margin'], 'table and columns are as they were left', place)
        finally:
            stop(process)
    return 0


if __name__ == '__main__':
    if len(sys.argv) > 1 and sys.argv[1] == 'inside':
        sys.exit(main(*sys.argv[2:5]))
    sys.exit(outside(os.path.abspath(__file__), *sys.argv[1:]))
