#!/usr/bin/env python3
# test_practice.py - soffit-cli practice as its users call it.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_practice.py SOFFIT_CLI SOURCE_ROOT
import hashlib
import json
import os
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
EXERCISES = os.path.join(ROOT, 'data', 'exercises')
GUM = '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="-5 -8 20 10"><path d="%s"/></svg>'
WIDE_U = 'M -3.5 0 L -1.5 0 L -1.25 -1.5 A 0.9 0.9 0 0 1 -0.36 -2.25 L 0.36 -2.25 A 0.9 0.9 0 0 1 1.25 -1.5 L 1.5 0 L 3.5 0'


def run(*args):
    p = subprocess.run([CLI, 'practice', *args], capture_output=True, text=True, timeout=60)
    return p.returncode, p.stdout, p.stderr


def write(folder, name, text):
    path = os.path.join(folder, name)
    with open(path, 'w', encoding='utf-8') as f:
        f.write(text)
    return path


with tempfile.TemporaryDirectory() as tmp:
    code, out, err = run('--list', '--json')
    rows = [json.loads(line) for line in out.splitlines()]
    check(code == 0 and [r['id'] for r in rows] == [f'{l}.{n}' for l in range(1, 5) for n in range(1, 7)] + ['F.1', 'F.2'], 'all exercises in order', out, err)

    code, out, err = run('4.4')
    check(code == 0 and 'faults: Which remarks do you write?' in out and 'Roof radius at least 0.70' in out, 'one exercise with questions and criteria', out, err)

    drawing = write(tmp, 'u.svg', GUM % WIDE_U)
    code, out, err = run('1.1', '--outline', drawing, '--json')
    score = json.loads(out) if out else {}
    check(code == 0 and score.get('passed') == 'yes' and score.get('met') == 5, 'a U passes', out, err)
    check(score and score['mine_low_mpa'] < score['mine_mpa'] < score['mine_high_mpa'] and score['mine_mpa'] < 0.7 * score['start_mpa'],
          'its peak with its band, against the start', out)

    v = write(tmp, 'v.svg', GUM % 'M -3.5 0 L -1.5 0 L -0.2 -2.4 L 0.2 -2.4 L 1.7 0 L 3.5 0')
    code, out, err = run('1.1', '--outline', v)
    check(code == 1 and 'Your roof radius is' in out and 'A foot has moved by 0.20' in out, 'what is missing is told in words', out, err)

    with open(os.path.join(ROOT, 'data', 'exercises', '1-3.xml'), encoding='utf-8') as f:
        text = f.read()
    case = text[text.index('<case '):text.index('</case>') + 7].replace('neck-width="3.1" groove="5.7"', 'neck-width="3.7" groove="6.6"')
    code, out, err = run('1.3', '--outline', write(tmp, 'c.xml', case), '--answer', 'first=35-36')
    check(code == 0 and '6 of 6: passed' in out, 'a whole case and an answer', out, err)
    code, out, err = run('1.1', '--outline', os.path.join(tmp, 'c.xml'))
    check(code == 2 and 'another bridge' in err, 'another bridge is refused', out, err)
    code, out, err = run('1.3', '--answer', 'second=35-36')
    check(code == 2 and 'no question' in err, 'an unknown question is refused', out, err)
    code, out, err = run('9.9')
    check(code == 2 and '--list' in err, 'an unknown exercise is refused', out, err)

    bad = os.path.join(tmp, 'more')
    os.mkdir(bad)
    write(bad, 'bad.xml', text.replace('id="1.3"', 'id="7.1"').replace('measure="gap"', 'measure="gaps"'))
    write(bad, 'good.xml', text.replace('id="1.3"', 'id="7.2"'))
    code, out, err = run('--list', '--folder', bad)
    check(code == 1 and 'bad.xml:' in err and '\n7.2' in out and '\n7.1' not in out, 'a broken file is named, the rest works', out, err)
    code, out, err = run('--class', bad)
    check(code == 0 and out == '', 'a class without trainees', out, err)

    # a class: progress files as the window writes them, and one that a crash has cut
    def progress(name, passed):
        body = f'[progress]\nversion=1\ntrainee={name}\n'
        for i, (exercise, good) in enumerate(passed):
            body += (f'\n[attempt {i + 1}]\nexercise={exercise}\nwhen={1780000000 + 86400 * i}\npassed={good}\nmet={5 if good == "true" else 4}\nof=5\nshare=1\n'
                     f'hints={i % 3}\nshown=false\nstrokes=3\nplace=0.4\nguess=30\ngain=68\n{"right" if good == "true" else "wrong"}=radius;brush;\n')
        return body + '# whole ' + hashlib.sha256(body.encode()).hexdigest() + '\n'

    school, paper = os.path.join(tmp, 'class'), os.path.join(tmp, 'class.pdf')
    os.mkdir(school)
    code, out, err = run('--class', school, '--pdf', paper)
    check(code == 2 and 'no progress file' in err and not os.path.exists(paper), 'a class without trainees makes no paper', out, err)
    write(school, 'a.progress', progress('Ada', [('1.1', 'false'), ('1.1', 'true'), ('1.3', 'true')]))
    write(school, 'b.progress', progress('Ben', [(f'{l}.{n}', 'true') for l in range(1, 5) for n in range(1, 7)] * 2))
    write(school, 'c.progress', progress('Cut', [('1.1', 'true')])[:90])
    code, out, err = run('--class', school, '--json', '--pdf', paper)
    rows = [json.loads(line) for line in out.splitlines()]
    check(code == 1 and 'c.progress' in err and [r['passed'] for r in rows] == [2, 24], 'rows of a class, the damaged file is told', out, err)
    check(rows and rows[0]['place_mm'] == 0.4 and rows[0]['gain_points'] == -38, 'calibration of the predictions', out)
    info = subprocess.run(['pdfinfo', paper], capture_output=True, text=True).stdout
    pages = [subprocess.run(['pdftotext', '-layout', '-f', str(n), '-l', str(n), paper, '-'], capture_output=True, text=True).stdout for n in (1, 2)]
    check(re.search(r'Pages: +2\n', info) and re.search(r'Page size: +(595.276 x 841.89|612 x 792)', info), 'one page a trainee', info)
    check('Ada' in pages[0] and '2 of 24 passed' in pages[0] and 'From V to U' in pages[0] and 'releases no bridge' in pages[0], 'the page of the first', pages[0])
    check('Ben' in pages[1] and '24 of 24 passed' in pages[1] and 'The last one' in pages[1], 'the page of the second', pages[1])
plan()
