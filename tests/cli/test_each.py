#!/usr/bin/env python3
# test_each.py - soffit-cli assess --each: thousands of cases, here some dozens.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_each.py SOFFIT_CLI SOURCE_ROOT
# Outside: Python's csv module reads the table back; GNU parallel (Debian package parallel) spreads the same list; sort(1) brings both into one order.
import collections
import csv
import io
import json
import os
import pty
import shutil
import signal
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import made_cases
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
EACH = [CLI, 'assess', '--each', '--live']


def run(*args, text='', command=EACH):
    p = subprocess.run([*command, *args], input=text.encode(), capture_output=True, timeout=200)
    return p.returncode, p.stdout.decode(), p.stderr.decode()


def ordered(text):
    return sorted(text.splitlines())


def small_cases(folder, n):
    """Made cases of one connector: two units."""
    os.makedirs(folder)
    paths, i = [], 0
    while len(paths) < n:
        text, number = made_cases.made_case(11, i)
        i += 1
        if text.count('<connector ') == 1:
            paths.append(os.path.join(folder, number + '.xml'))
            with open(paths[-1], 'w', encoding='utf-8') as out:
                out.write(text)
    return paths


def workers(files):
    """The lines are the same, byte for byte, however many work at them."""
    runs = [run('--workers', str(n), *files) for n in (1, 2, 3)]
    check(all(ordered(out) == ordered(runs[0][1]) and len(out) == len(runs[0][1]) for _, out, _ in runs),
          '1, 2 and 3 workers write the same lines', *[err for _, _, err in runs])
    for _, out, _ in runs:
        cases = [json.loads(line)['file'] for line in out.splitlines()]
        breaks = sum(a != b for a, b in zip(cases, cases[1:]))
        check(breaks + 1 == len(set(cases)) == len(files), 'lines of one case stand together', cases)
    rows = [json.loads(line) for line in runs[2][1].splitlines()]
    check(all('seconds' not in row for row in rows), 'no figure that differs from run to run', rows[0])
    code, single, err = run('--json', '--live', *files, command=[CLI, 'assess'])
    alone = [{k: v for k, v in json.loads(line).items() if k != 'seconds'} for line in single.splitlines()]
    mine = collections.defaultdict(list)
    for row in rows:
        mine[row['case']].append({k: v for k, v in row.items() if k != 'file'})
    check(all(mine[row['case']].pop(0) == row for row in alone) and not any(mine.values()),
          'the figures are those of one case alone', err)
    check(code == runs[0][0] == 1, 'some do not hold: exit 1', code, runs[0][0])
    timed = json.loads(run('--timing', files[0])[1].splitlines()[0])
    check(timed['seconds'] > 0, 'with --timing the seconds are there', timed)


def troubles(files, folder):
    """A bad file in the middle, one that is not there: told, the others unaffected."""
    bad = os.path.join(ROOT, 'tests', 'cases', 'truncated.xml')
    gone = os.path.join(folder, 'gone.xml')
    code, out, err = run('--workers', '2', files[0], bad, gone, files[1])
    rows = [json.loads(line) for line in out.splitlines()]
    wrong = {row['file']: row['error'] for row in rows if 'error' in row}
    check(code == 2 and set(wrong) == {bad, gone}, 'two bad files: exit 2, a line each', code, out)
    check({row['file'] for row in rows if 'verdict' in row} == set(files[:2]), 'the others are answered', out)
    check('truncated.xml:' in wrong[bad] and 'No such file' in wrong[gone], 'the lines say what is wrong', wrong)
    check(all(words in err for words in wrong.values()), 'so does standard error', err)
    unsound = os.path.join(ROOT, 'tests', 'cases', 'crossing.xml')
    code, out, err = run(unsound)
    rows = [json.loads(line) for line in out.splitlines()]
    check(code == 2 and any('error' in row for row in rows) and 'crossing.xml' in err, 'a case without an answer: its error stands beside its lines',
          code, out, err)


def table(files):
    """--csv: the same cases, read back by Python's csv module; with and without --each the same rows."""
    bad = os.path.join(ROOT, 'tests', 'cases', 'truncated.xml')
    code, out, err = run('--csv', '--workers', '2', *files, bad)
    heads, *rows = list(csv.reader(io.StringIO(out, newline='')))
    check(code == 2 and len(set(heads)) == len(heads) and all(len(row) == len(heads) for row in rows), 'a table: every row has every column', code, err)
    check(out.endswith('\r\n') and out.count('\n') == out.count('\r\n'), 'lines end with CR LF')
    rows = [dict(zip(heads, row)) for row in rows]
    lines = [json.loads(line) for line in run(*files)[1].splitlines()]
    mine = {(row['file'], row['connector']): row for row in rows if not row['error']}
    same = ('case', 'form', 'verdict', 'answer', 'neck_area_mm2', 'margin', 'margin_low', 'chance_percent', 'moment_n_mm', 'peak_mpa')
    check(len(mine) == len(lines) and all(str(mine[line['file'], line['connector']][key]) in (str(line[key]), '%.9g' % line[key] if key not in same[:4] else '')
                                          for line in lines for key in same), 'the figures of the lines of JSON, under the same names', mine)
    wrong = [row for row in rows if row['error']]
    check([row['file'] for row in wrong] == [bad] and 'truncated.xml:' in wrong[0]['error'] and not wrong[0]['margin'], 'what is wrong has a row', wrong)
    code, alone, err = run('--csv', '--live', *files, bad, command=[CLI, 'assess'])
    check(code == 2 and sorted(alone.split('\r\n')) == sorted(out.split('\r\n')), 'without --each the same rows', code, err)
    code, out, err = run('--csv', '--json', files[0])
    check(code == 2 and not out and '--csv' in err, '--csv and --json exclude each other', err)


def names(files, folder):
    """From standard input, by lines or NUL; in any script."""
    want = ordered(run(*files[:2])[1])
    for args, text, what in (((), '\n'.join(files[:2]), 'by lines, the last without an end'), (('-',), '\n\n'.join(files[:2]) + '\n', 'by lines, empty ones between'),
                             (('--null',), '\0'.join(files[:2]) + '\0', 'with NUL')):
        code, out, err = run(*args, text=text)
        check(ordered(out) == want, 'names on standard input ' + what, code, err)
    odd = os.path.join(folder, 'Brücke 臼歯\n"2" \\.xml')
    shutil.copy(files[0], odd)
    code, out, err = run('--null', text=odd + '\0')
    check(json.loads(out.splitlines()[0])['file'] == odd, 'a name with a newline, quotes and any script', code, out, err)
    raw = os.path.join(folder.encode(), b'caf\xe9.xml')
    shutil.copy(files[0], raw)
    p = subprocess.run([*EACH, raw], capture_output=True, timeout=100)
    check(json.loads(p.stdout.decode().splitlines()[0])['file'].endswith('caf\ufffd.xml'), 'a name that is no UTF-8 makes no bad JSON', p)
    check(run(text='') == (0, '', ''), 'an empty list: nothing to say')
    with open('/proc/self/mem', 'rb') as unreadable:  # nothing lies at its beginning: an error of reading
        p = subprocess.run(EACH, stdin=unreadable, capture_output=True, timeout=100)
    check(p.returncode == 2 and b'list of files' in p.stderr, 'a list that cannot be read: exit 2', p)


def words(files):
    code, _, err = run('--progress', *files[:2])
    check('2 of 2 cases' in err, 'progress on standard error where it is asked for', err)
    check(run(*files[:2])[2] == '', 'no progress into a file', err)
    terminal(files)
    for args in (('--fine', files[0]), ('--workers=-1', files[0]), ('--workers=9999', files[0])):
        code, out, err = run(*args)
        check(code == 2 and not out and err.startswith('soffit-cli: '), 'refused: ' + args[0], code, err)


def terminal(files):
    try:
        leader, follower = pty.openpty()
    except OSError as trouble:  # a bare root without /dev/pts
        print(f'# this machine has no terminals ({trouble}): progress on one was not tried')
        return
    p = subprocess.Popen([*EACH, *files[:2]], stdout=subprocess.PIPE, stderr=follower)
    os.close(follower)
    p.stdout.read()
    seen = b''
    try:
        while part := os.read(leader, 4096):
            seen += part
    except OSError:  # how a terminal ends
        pass
    check(p.wait() in (0, 1) and b'\r' in seen and b'2 of 2 cases' in seen, 'progress on a terminal, in one line', seen)


def endings(files):
    """Who reads may leave; a signal lets the running cases end."""
    many = '\n'.join(files * 40)
    p = subprocess.Popen([*EACH, '--workers', '2'], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    p.stdin.write(many.encode())
    p.stdout.readline()
    p.stdout.close()
    p.stdin.close()
    err = p.stderr.read()
    check(p.wait(60) == -signal.SIGPIPE and err == b'', 'nobody reads any more: it ends without a word', p.returncode, err)
    for stop in (signal.SIGINT, signal.SIGTERM):
        # the pipe of names stays open: the signal ends the waiting for more, too
        p = subprocess.Popen([*EACH, '--workers', '2'], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        p.stdin.write((files[0] + '\n' + files[1] + '\n').encode())
        p.stdin.flush()
        first = p.stdout.readline()
        p.send_signal(stop)
        out = first + p.stdout.read()
        check(p.wait(60) == 130 and all(json.loads(line) for line in out.decode().splitlines()) and out.endswith(b'}\n'),
              stop.name + ': whole lines, exit 130', p.returncode, out)
        p.stdin.close()
        p.stderr.close()


def parallel(files):
    """README, "Thousands of cases": the same lines, whoever spreads the work."""
    listed = '\n'.join(files) + '\n'
    _, alone, _ = run('--workers', '2', text=listed)
    code, spread, err = run('--pipe', '-N', '8', *EACH, '--workers', '1', text=listed, command=['parallel', '--will-cite', '-j', '2'])
    check(len(alone.splitlines()) == len(files), 'a line for each of the %d cases' % len(files), alone)
    check(ordered(spread) == ordered(alone), 'GNU parallel: the same bytes after sorting', code, err)
    code, spread, err = run('-0', '-X', *EACH, '--workers', '1', text='\0'.join(files[:8]) + '\0', command=['parallel', '--will-cite', '-j', '2'])
    check(ordered(spread) == sorted(line for line in alone.splitlines() if json.loads(line)['file'] in files[:8]),
          'GNU parallel: names as arguments, ended by NUL', code, err)


def made():
    """The generator: the same seed, the same bytes; each case its own number."""
    a, b = ([made_cases.made_case(3, i) for i in n] for n in (range(40), range(39, -1, -1)))
    check(a == b[::-1] and len({number for _, number in a}) == 40, 'made cases follow from seed and place alone')
    check(all(made_cases.made_case(3, i, True)[0].count('<unit ') == 3 for i in range(40)), 'made three-unit cases have three units')
    check(a != [made_cases.made_case(4, i) for i in range(40)], 'another seed, other cases')


with tempfile.TemporaryDirectory() as place:
    small = small_cases(os.path.join(place, 'small'), 24)
    mixed = made_cases.write_cases(os.path.join(place, 'mixed'), 3, 5)
    workers(mixed)
    troubles(small, place)
    table(mixed)
    names(small, place)
    words(small)
    endings(small[:4])
    parallel(small)
    made()
plan()
