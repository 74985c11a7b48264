#!/usr/bin/env python3
# test_report.py - paper as other programs read it: qpdf (syntax), poppler (sizes, fonts, words, boxes), zbar (square code).  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_report.py SOFFIT_CLI SOURCE_ROOT
import csv
import io
import json
import os
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), sys.argv[2]
DEMO = os.path.join(ROOT, 'data', 'demo')
MARGIN = 45  # pt, ui/drawing/paper.h
SIZES = {'a4': (595.276, 841.89), 'letter': (612, 792)}  # ISO 216: 210 x 297 mm; ANSI size A: 8.5 x 11 in


def tool(*args):
    return subprocess.run(args, capture_output=True, text=True, timeout=60)


def report(*args, **env):
    return subprocess.run([CLI, 'report', *args], capture_output=True, text=True, timeout=120, env={**os.environ, 'TZ': 'UTC', **env})


def table(*args):
    """The bytes: ends of lines as they are."""
    return subprocess.run([CLI, 'report', *args], capture_output=True, timeout=120, env={**os.environ, 'TZ': 'UTC'})


def sound(pdf, size, what):
    qpdf = tool('qpdf', '--check', pdf)
    check(qpdf.returncode == 0, f'{what}: qpdf finds nothing wrong', qpdf.stdout, qpdf.stderr)
    info = tool('pdfinfo', '-f', '1', '-l', '99', pdf).stdout
    found = [tuple(map(float, m)) for m in re.findall(r'Page +\d+ size: +([\d.]+) x ([\d.]+)', info)]
    check(found and all(abs(w - size[0]) < 0.01 and abs(h - size[1]) < 0.01 for w, h in found), f'{what}: every page has the size', info)
    fonts = tool('pdffonts', pdf).stdout.splitlines()[2:]
    check(fonts and all(line.split()[-5] == 'yes' for line in fonts), f'{what}: every font is embedded', fonts)
    boxes = tool('pdftotext', '-bbox', pdf, '-').stdout
    words = re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', boxes)
    out = [w for w in words if float(w[0]) < MARGIN - 2 or float(w[2]) > size[0] - MARGIN + 2 or float(w[1]) < 30 or
           float(w[3]) > size[1] - 15]
    check(len(words) > 20 and not out, f'{what}: every word stands within the margins', out[:5])
    return len(found)


def text_of(pdf):
    return tool('pdftotext', '-layout', pdf, '-').stdout


def code_of(pdf, page, folder):
    tool('pdftoppm', '-r', '150', '-f', str(page), '-l', str(page), '-png', '-singlefile', pdf, os.path.join(folder, 'page'))
    return tool('zbarimg', '-q', '--raw', os.path.join(folder, 'page.png')).stdout.strip()


def digest_of(case):
    lines = tool(CLI, 'record', case, '--json').stdout.splitlines()
    return next(e['content'] for e in map(json.loads, lines) if 'standing' in e)


def changed(folder, name, out, *edits):
    with open(os.path.join(DEMO, name), encoding='utf-8') as f:
        text = f.read()
    for before, after in edits:
        assert before in text, before
        text = text.replace(before, after, 1)
    path = os.path.join(folder, out)
    with open(path, 'w', encoding='utf-8') as f:
        f.write(text)
    return path


with tempfile.TemporaryDirectory() as folder:
    pdf = os.path.join(folder, 'out.pdf')
    qb02 = os.path.join(DEMO, 'QB-02.xml')
    # remarks, a decision, titles and words of any length and script
    long = ' '.join(f'word{i}' for i in range(5000 // 9)) + ' ' + 'x' * 300 + ' lastword'
    hard = changed(folder, 'QB-02.xml', 'hard.xml',
                   ('Four units with V embrasures', 'Brücke Γέφυρα Мост 臼歯ブリッジ جسر خلفي ' + 'long title ' * 30),
                   ('<history>', '<remarks><remark between="35-36" x="0" y="1.5" role="supervisor" initials="VS" '
                                 f'time="2026-03-02T09:00:00Z">{long}</remark>'
                                 '<remark role="supervisor" initials="VS" settled="yes">whole bridge</remark></remarks><history>'),
                   ('</history>', '<entry kind="return" time="2026-03-02T10:20:00Z" role="supervisor" initials="VS" '
                                  'limits="1.00 1.25">roof too sharp</entry></history>'))
    for paper, case, number in (('a4', qb02, {9}), ('letter', hard, range(10, 30))):
        p = report(case, '-o', pdf, '--paper', paper)
        check(p.returncode == 1, f'{paper}: written', p.stderr)
        pages = sound(pdf, SIZES[paper], paper)
        check(pages in number, f'{paper}: a page for the bridge, two a connector, list, record', pages)
        text = text_of(pdf)
        check(all(w in text for w in ('QB-02', 'Finishing list', 'Record', 'order booked', 'dentist')), f'{paper}: its words are there',
              text[-1500:])
        digest = digest_of(case)
        check(re.fullmatch('[0-9a-f]{64}', digest) and digest in text, f'{paper}: the digest stands there as soffit-cli record says it', digest)
        code = code_of(pdf, pages, folder)
        check(code == f'SOFFIT1:QB-02:{digest}', f'{paper}: the square says number and digest (read by zbar)', code)
    check('word0' in text and 'lastword' in text, 'long remark: goes on over pages to its last word', pages)
    check('settled' in text and 'VS, supervisor' in text and 'roof too sharp' in text and 'returned' in text,
          'remark, settled, and the decision with who and why', text[-1800:])

    subprocess.run(['localedef', '-i', 'de_DE', '-f', 'UTF-8', os.path.join(folder, 'de_DE.UTF-8')], capture_output=True, check=False)
    p = report(qb02, '-o', pdf, '--paper', 'a4', LC_ALL='de_DE.UTF-8', LANGUAGE='de', LOCPATH=folder)
    sound(pdf, SIZES['a4'], 'German')
    text = text_of(pdf)
    check('Verbinder' in text and 'Arbeitsliste' in text and re.search(r'\d,\d', text), 'German: words and decimal sign', text[:600])

    with open(qb02, encoding='utf-8') as f:
        bare = re.sub(r'<history>.*</history>', '', f.read(), flags=re.S)
    empty = os.path.join(folder, 'empty.xml')
    with open(empty, 'w', encoding='utf-8') as f:
        f.write(bare)
    p = report(empty, '-o', pdf, '--paper', 'a4')
    check(p.returncode == 1 and 'Nothing is written down yet.' in text_of(pdf), 'an empty history says so', p.stderr)

    # what belongs together stays on one page, on the shorter paper too, with many reasons
    for case in ('QB-02', 'QB-10'):
        counts = {}
        for paper in SIZES:
            report(os.path.join(DEMO, case + '.xml'), '-o', pdf, '--paper', paper)
            pages = counts[paper] = text_of(pdf).split('\f')[:-1]
            why = [page for page in pages if re.search(r'^ *Connector \d\d/\d\d: why', page, re.M)]
            first = [page for page in pages if re.search(r'^ *Connector \d\d/\d\d +(rework|close|holds)', page, re.M)]
            check(why and all('What drives the band' in page and 'growth in water' in page for page in why), f'{case} {paper}: why a connector stands on one page')
            bodies = [re.sub(r'.*\n', '', page, count=1).strip() for page in pages[1:]]
            check(len(first) == len(why) and all(re.match(r'Connector|Finishing list|Cautions|Record', body) for body in bodies),
                  f'{case} {paper}: every page begins with a heading', [body[:60] for body in bodies])
            check(sum('released by' in page for page in pages) == 1 and all('Cautions' in page for page in pages if 'released by' in page),
                  f'{case} {paper}: the lines for names stand below the cautions')
        check(len(counts['letter']) == len(counts['a4']), f'{case}: as many pages on either paper', [len(pages) for pages in counts.values()])
    report(os.path.join(DEMO, 'QB-10.xml'), '-o', pdf, '--bench', '--paper', 'letter')
    pages = text_of(pdf).split('\f')[:-1]
    check(sum(bool(re.search(r'^ *K\d  ', page, re.M)) for page in pages) == 1, 'bench: all cautions on one page')

    # the list for the bench
    p = report(qb02, '-o', pdf, '--bench', '--paper', 'letter')
    pages = sound(pdf, SIZES['letter'], 'bench')
    heights = [float(b) - float(a) for a, b in
               re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">(?:Smooth|Check|Polish)<', tool('pdftotext', '-bbox', pdf, '-').stdout)]
    check(pages <= 2 and heights and min(heights) > 16, 'bench: two pages at most, letters of 16 pt', pages, heights)

    # a day
    lab = os.path.join(folder, 'lab')
    os.mkdir(lab)
    changed(lab, 'QB-02.xml', 'a.xml', ('</history>', '<entry kind="return" time="2026-03-02T10:20:00Z" role="supervisor" initials="VS" '
                                                     'limits="1.00 1.25">roof too sharp</entry></history>'))
    changed(lab, 'QB-01.xml', 'b.xml', ('</history>', '<entry kind="pass" time="2026-03-02T08:00:00Z" role="supervisor" initials="VS"/>'
                                                     '<entry kind="wait" time="2026-03-03T08:00:00Z" role="supervisor">x</entry></history>'))
    p = report('--day', '2026-03-02', lab, '-o', pdf, '--paper', 'a4')
    check(p.returncode == 0, 'day: written', p.stderr)
    sound(pdf, SIZES['a4'], 'day')
    text = text_of(pdf)
    check('2 decisions: 1 passed, 1 returned, 0 left waiting' in text and 'roof too sharp' in text and
          text.index('QB-01') < text.index('QB-02') and '0.30' in text, 'day: counts, reason, order of time, margin', text)
    p = report('--day', '2026-03-03', lab, '-o', pdf, '--paper', 'letter')
    text = text_of(pdf)
    check('One decision: 0 passed, 0 returned, 1 left waiting' in text and '2 cases read.' in text, 'day: one decision is told as one', text)
    p = report('--day', '2026-03-02', '--json', lab)
    lines = [json.loads(line) for line in p.stdout.splitlines()]
    check(p.returncode == 0 and [(d['case'], d['decision'], d['reason']) for d in lines] == [('QB-01', 'pass', ''), ('QB-02', 'return', 'roof too sharp')],
          'day as JSON: the decisions in order of time', p.stdout, p.stderr)
    p = table('--day', '2026-03-02', '--csv', lab)
    text = p.stdout.decode()
    rows = list(csv.DictReader(io.StringIO(text, newline='')))
    check(p.returncode == 0 and text.count('\n') == text.count('\r\n') == 3, 'day as a table: a row of names, lines end with CR LF', text)
    check(len(rows) == 2 and all(list(row) == list(line) and all(
        row[key] == value if isinstance(value, str) else float(row[key]) == value for key, value in line.items()) for row, line in zip(rows, lines)),
        'day: table and JSON say the same under the same names', rows, lines)
    check(lines[1]['weakest'] == '35-36' and 0.25 < lines[1]['margin'] < 0.35 and lines[1]['margin_low'] < lines[1]['margin'] < lines[1]['margin_high'] and
          lines[1]['verdict'] == 'rework' and lines[1]['signed'] == 'no', 'day: verdict and margin with its band', lines[1])
    check(report('--day', '2026-03-04', '--json', lab).stdout == '' and table('--day', '2026-03-04', '--csv', lab).stdout.count(b'\r\n') == 1,
          'a day without a decision: no line, the names alone')
    for wrong in (('--day', '2026-03-02', '--csv', '--json', lab), ('--day', '2026-03-02', '--csv', lab, '-o', pdf)):
        p = report(*wrong)
        check(p.returncode == 2 and not p.stdout, 'refused: ' + ' '.join(wrong[:-1]), p.stderr)
    with open(os.path.join(lab, 'c.xml'), 'w', encoding='utf-8') as f:
        f.write('<case')
    p = report('--day', '2026-03-02', '--json', lab)
    check(p.returncode == 2 and 'c.xml' in p.stderr and len(p.stdout.splitlines()) == 2, 'day as JSON: a file that cannot be read is told', p.stderr)
    p = report('--day', '2026-03-02', lab, '-o', pdf, '--paper', 'a4')
    check(p.returncode == 2 and 'c.xml' in p.stderr and 'c.xml' in text_of(pdf) and 'roof too sharp' in text_of(pdf),
          'day: a file that cannot be read is told and stops nothing', p.stderr)
    p = report('--day', '2026-02-30', lab, '-o', pdf)
    check(p.returncode == 2 and 'is no day' in p.stderr, 'a day that is none is refused', p.stderr)
    p = report(qb02, '-o', pdf, '--paper', 'a9')
    check(p.returncode == 2 and 'a4 or letter' in p.stderr, 'a paper that is none is refused', p.stderr)

    # the list, remarks and decision for other programs
    ticked = changed(folder, 'QB-02.xml', 'ticked.xml', ('<history>', '<ticks><tick step="order-read" initials="AB" time="2026-03-01T08:00:00Z"/></ticks><remarks><remark between="35-36" x="0.5" y="1.5" role="supervisor" '
                                 'initials="VS" time="2026-03-02T09:00:00Z">a "sharp" roof</remark><remark role="supervisor" initials="VS" '
                                 'settled="yes">whole bridge</remark></remarks><history>'),
                     ('</history>', '<entry kind="return" time="2026-03-02T10:20:00Z" role="supervisor" initials="VS" '
                                    'limits="1.00 1.25">roof too sharp</entry></history>'))
    with open(ticked, encoding='utf-8') as f:
        ticks = re.findall(r'<tick step="([^"]*)" initials="([^"]*)"(?: time="([^"]*)")?', f.read())
    p = report(ticked, '--json')
    said = json.loads(p.stdout)
    check(p.returncode == 1 and p.stdout.count('\n') == 1 and said['content'] == digest_of(ticked), 'json: one object, the digest of soffit-cli record',
          p.stdout[:200], p.stderr)
    record = [json.loads(line) for line in tool(CLI, 'record', ticked, '--json').stdout.splitlines()]
    decided = record[-2]
    check(said['standing'] == record[-1]['standing'] == 'returned' and all(said['decision'][k] == decided[k] for k in
          ('kind', 'time', 'role', 'initials', 'content', 'signed')) and said['decision']['text'] == 'roof too sharp',
          'json: standing and decision as in the record', said['decision'])
    done = [(i['id'], i['initials'], i['time']) for i in said['list'] if i['state'] == 'done']
    check(ticks and sorted(done) == sorted(ticks), 'json: done is what is ticked in the file, by whom and when', done, ticks)
    report(ticked, '-o', pdf, '--bench', '--paper', 'a4')
    paper = ' '.join(text_of(pdf).split())
    check(len(said['list']) > 5 and [i['state'] for i in said['list']].count('now') == 1 and
          all(i['act'].split()[0] in paper for i in said['list']), 'json: the steps of the paper, one of them now', len(said['list']))
    check([(r['connector'], r['x_mm'], r['y_mm'], r['text'], r['settled']) for r in said['remarks']] ==
          [('35-36', 0.5, 1.5, 'a "sharp" roof', 'no'), ('', None, None, 'whole bridge', 'yes')], 'json: the remarks', said['remarks'])
    p = table(ticked, '--csv')
    rows = list(csv.DictReader(io.StringIO(p.stdout.decode(), newline='')))
    check(rows == said['list'] and p.stdout.count(b'\r\n') >= len(rows) + 1, 'the list as a table: the same under the same names', rows[:2], p.stderr)
    p = report(ticked, '--json', '-o', pdf)
    check(p.returncode == 2 and 'write no paper' in p.stderr, 'json and paper at once are refused', p.stderr)

    # a table, read by Python's csv; the same figures as the JSON
    quoted = changed(folder, 'QB-02.xml', 'quoted.xml', ('Four units with V embrasures', 'a &quot;b&quot;, c;&#10;d'))
    p = subprocess.run([CLI, 'assess', '--csv', quoted, os.path.join(DEMO, 'QB-01.xml')], capture_output=True, timeout=120)
    rows = list(csv.DictReader(io.StringIO(p.stdout.decode(), newline=''), strict=True))
    said = [json.loads(line) for line in tool(CLI, 'assess', '--json', quoted, os.path.join(DEMO, 'QB-01.xml')).stdout.splitlines()]
    check(p.returncode == 1 and len(rows) == len(said) >= 5 and all(None not in r and None not in r.values() for r in rows),
          'csv: one row a connector, every column in every row', len(rows), p.stderr)
    check(rows and rows[0]['title'].startswith('a "b", c;') and b'\r\n' in p.stdout, 'csv: quotes and commas come back', rows[:1])
    keys = 'neck_height_mm roof_radius_mm peak_mpa strength_mpa margin margin_low carries_n chance_high_percent scratch_um'.split()
    check(all(float(r[k]) == s[k] for r, s in zip(rows, said) for k in keys) and
          all(r['verdict'] == s['verdict'] and r['reasons'] == '; '.join(s['reasons']) for r, s in zip(rows, said)),
          'csv: the figures, verdicts and reasons of the JSON')

plan()
