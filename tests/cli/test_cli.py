#!/usr/bin/env python3
# test_cli.py - soffit-cli as its users call it: answers, exit status, messages.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_cli.py SOFFIT_CLI SOURCE_ROOT
import json
import math
import os
import re
import resource
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import shapes
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
DEMO = os.path.join(ROOT, 'data', 'demo')


def run(*args, **env):
    p = subprocess.run([CLI, *args], capture_output=True, text=True, timeout=120, env={**os.environ, **env})
    return p.returncode, p.stdout, p.stderr


def objects(text):
    return [json.loads(line) for line in text.splitlines()]


def near(got, want, percent):
    return got is not None and abs(got - want) <= abs(want) * percent / 100


KEYS = ('case connector neck_height_mm neck_width_mm neck_area_mm2 roof_radius_mm form moment_n_mm shear_n nominal_mpa peak_mpa '
        'band_percent answer grade seconds strength_mpa margin scratch_um scratch_low_um scratch_high_um chance_percent chance_low_percent '
        'chance_high_percent service drivers verdict reasons advice lateral_n_mm '
        'torsion_n_mm load_case load_case_words').split()

with tempfile.TemporaryDirectory() as folder:
    def write(name, text):
        path = os.path.join(folder, name)
        with open(path, 'w', encoding='utf-8') as f:
            f.write(text)
        return path

    # assess: the demo cases; their expected verdicts are part of the invented demo
    expected = {'QB-01': 0, 'QB-02': 1, 'QB-03': 1, 'QB-08': 1}
    for name, status in expected.items():
        code, out, err = run('assess', '--json', os.path.join(DEMO, name + '.xml'))
        rows = objects(out) if code in (0, 1) else []
        check(code == status and rows, '%s exits %d' % (name, status), code, out, err)
        check(all(k in row for row in rows for k in KEYS), '%s has every key' % name, out)
        check(all(row['band_percent'] > 0 and row['case'] == name for row in rows), '%s: no figure without a band' % name, out)
        if name == 'QB-02':
            worst = min(rows, key=lambda row: row['margin'])
            check(worst['connector'] == '35-36' and worst['verdict'] == 'rework' and worst['form'] == 'V',
                  'QB-02: the V at 35-36 goes first', worst)
            check(worst['advice'] and worst['reasons'], 'QB-02: reasons and advice', worst)
        check(all(row['load_case'] == 0 and row['lateral_n_mm'] == row['torsion_n_mm'] == 0 for row in rows),
              '%s: straight and bitten straight down: no twist' % name, out)
        if name == 'QB-02':
            check(not any(key.startswith('bridge_') for row in rows for key in row), 'the whole bridge is left out unless asked', rows[0])
            code, out, err = run('assess', '--json', '--bridge', os.path.join(DEMO, name + '.xml'))
            asked = objects(out)
            check(all(row['bridge_moment_n_mm'] > 0 and row['bridge_differs_percent'] >= 0 for row in asked),
                  'QB-02: moments of the whole bridge', asked)
            check(all(near(row['bridge_moment_n_mm'], row['moment_n_mm'], 20) for row in asked), 'near those of the beam', asked)
            check(all(row['margin'] == old['margin'] for row, old in zip(asked, rows)), 'they change no margin', asked)
            code, out, err = run('assess', '--json', '--fine', '--bridge', os.path.join(DEMO, name + '.xml'))
            check(all(near(row['bridge_moment_n_mm'], old['bridge_moment_n_mm'], 1) for row, old in zip(objects(out), asked)) and out,
                  'QB-02: the same beside the fine answer', out)
            code, out, err = run('assess', '--bridge', os.path.join(DEMO, name + '.xml'))
            check(out.count('Bending of the whole bridge as a flat body') == sum(r['bridge_differs_percent'] > 10 for r in asked) > 0,
                  'QB-02: told where they differ by more than 10 %', out)
        for row in rows:
            service, drivers = row['service'], row['drivers']
            check(service['bites_a_day'] == 700 and service['years'] == 10 and
                  service['margin_low'] < service['margin'] < row['margin'] and
                  service['scratch_um'] <= row['scratch_um'], '%s %s: years cost strength' % (name, row['connector']), service)
            swing = [abs(math.log(d['at_high']['service_margin'] / d['at_low']['service_margin'])) for d in drivers]
            check(len(drivers) >= 7 and swing == sorted(swing, reverse=True) and all(d['source'] for d in drivers),
                  '%s %s: drivers in order, each with its source' % (name, row['connector']), drivers)
        if name == 'QB-03':
            row = next(r for r in rows if r['connector'] == '44-45')
            check(row['moment_n_mm'] < 0, 'QB-03: the biting side is pulled at the hanging tooth', row)
    # the converged answer: it agrees with the one at rest inside that one's band, and its own band is narrower
    rest, fine = (objects(run('assess', '--json', *option, os.path.join(DEMO, 'QB-02.xml'))[1]) for option in ([], ['--fine']))
    check(len(rest) == len(fine) > 0, 'assess --fine answers for every connector', rest, fine)
    for a, b in zip(rest, fine):
        check(a['grade'] == 'rest' and b['grade'] == 'fine' and b['seconds'] > 0, 'the grade is named, with its seconds', b)
        check(near(a['peak_mpa'], b['peak_mpa'], a['band_percent']), 'rest agrees with fine inside its band', a, b)
        check(a['answer'] != 'solid' or b['answer'] == 'solid' and b['band_percent'] < a['band_percent'], 'fine has the narrower band', a, b)
        check(bool(a['advice']) == bool(b['advice']), 'fine advises as well', a, b)
    code, out, err = run('assess', *sorted(os.path.join(DEMO, n) for n in os.listdir(DEMO) if n.endswith('.xml')))
    check(code == 1 and 'rework' in out and 'holds' in out, 'all demo cases in one call, human form', code, err)
    code_c, out_c, _ = run('assess', '--json', os.path.join(DEMO, 'QB-01.xml'), LC_ALL='C')
    code_d, out_d, _ = run('assess', '--json', os.path.join(DEMO, 'QB-01.xml'), LC_ALL='de_DE.UTF-8')
    untimed = lambda text: [{**row, 'seconds': 0} for row in objects(text)]
    check(code_c == code_d and untimed(out_c) == untimed(out_d) and objects(out_d), 'numbers do not change with the locale', out_d)


    # bites: a leaning one governs and is named; what makes no sense is told with its line
    with open(os.path.join(DEMO, 'QB-01.xml'), encoding='utf-8') as f:
        demo = f.read()

    def bitten(loads):
        return write('bites.xml', re.sub(r'(?=\n *<blank)', '\n' + loads, demo, count=1))

    code, out, err = run('assess', '--json', bitten('<loads><bite incline="45"/></loads>'))
    rows = objects(out) if code in (0, 1) else []
    check(rows and all(row['load_case'] == 1 and '45 degrees towards the cheek' in row['load_case_words'] and
                       abs(row['torsion_n_mm']) > 100 and row['sideways_answer'] == 'solid' for row in rows),
          'a leaning bite governs and is named', code, out, err)
    code, out, err = run('assess', bitten('<loads><bite incline="45"/></loads>'), LC_ALL='C.UTF-8', LANGUAGE='de')
    check('45 Grad zur Wange' in out, 'in German too', out, err)
    line = demo[:demo.index('<blank')].count('\n') + 1
    for loads, word in (('<loads><bite incline="75"/></loads>', '60 degrees'),
                        ('<loads><bite><on tooth="46" share="-1"/></bite></loads>', 'not above zero'),
                        ('<loads><bite x="400"/></loads>', 'outside the bridge')):
        code, out, err = run('assess', bitten(loads))
        check(code == 2 and 'bites.xml:%d: bite 1' % line in err and word in err, 'refused: ' + word, code, err)

    # bad input: exit 2, a message with the file, nothing on standard output
    demo = open(os.path.join(DEMO, 'QB-01.xml'), encoding='utf-8').read()
    bad = {
        'missing.xml': None,
        'empty.xml': '',
        'cut.xml': demo[:len(demo) // 2],
        'text.xml': 'not XML at all',
        'other.xml': '<?xml version="1.0"?><case xmlns="urn:other" version="1"/>',
        'newer.xml': demo.replace('version="1"', 'version="2"').replace('<?xml version="2"', '<?xml version="1'),
        'tooth.xml': demo.replace('tooth="45"', 'tooth="49"'),
        'size.xml': demo.replace('length="7"', 'length="-7"'),
        'nan.xml': demo.replace('length="7"', 'length="nan"'),
    }
    line_of = {'cut.xml', 'text.xml', 'other.xml', 'newer.xml', 'tooth.xml', 'size.xml', 'nan.xml', 'corners.xml', 'layer.xml'}
    bad['corners.xml'] = demo.replace('(-1.45, 0)', '(nan, 0)')
    bad['layer.xml'] = demo.replace('<measured height="4.1"', '<planned weaker-layer="perhaps"/><measured height="4.1"')
    for name, text in bad.items():
        path = os.path.join(folder, name)
        if text is not None:
            check(name in ('empty.xml', 'text.xml', 'other.xml') or text != demo, 'the fault is in %s' % name)
            write(name, text)
        code, out, err = run('assess', path)
        check(code == 2 and name in err and out == '', 'refuses %s with its name' % name, code, out, err)
        check(name not in line_of or re.search(name.replace('.', r'\.') + r':\d+: .+\. [A-Z].+\.', err),
              'names the line, what is wrong and what to do in %s' % name, err)
    check(run('assess', folder)[0] == 2, 'refuses a folder')
    # what can be mended by drawing is told with its place and line; the other connectors are still judged
    for name, words in (('crossing.xml', 'crosses itself'), ('no-neck.xml', 'leave no neck')):
        code, out, err = run('assess', os.path.join(ROOT, 'tests', 'cases', name))
        check(code == 2 and words in err and re.search(name + r':\d+: connector 45/46( gingival)? at x ', err), 'tells %s' % name, code, err)
    code, out, err = run('assess', write('between.xml', demo.replace('role="pontic"', 'role="hanging"')))
    check(code == 2 and 'unit 2: This hanging pontic stands between abutments' in err, 'refuses a hanging unit between abutments', err)
    large = write('large.xml', '<case/>')
    os.truncate(large, 100 << 20)
    code, out, err = run('assess', large)
    check(code == 2 and 'larger than 64 MiB' in err, 'refuses 100 MB unread', err)
    if os.geteuid() == 0:  # nobody's rights, when the tests run as root whom no mode stops
        nobody = dict(user=65534, group=65534, extra_groups=[])
    else:
        nobody = {}
    os.chmod(folder, 0o755)
    os.mkdir(os.path.join(folder, 'locked'), 0o700 if nobody else 0)
    path = os.path.join(folder, 'locked', 'case.xml')
    p = subprocess.run([CLI, 'assess', path], capture_output=True, text=True, timeout=120, **nobody)
    os.chmod(os.path.join(folder, 'locked'), 0o700)
    check(p.returncode == 2 and 'Permission denied' in p.stderr and 'Ask for the right' in p.stderr, 'an unreadable folder is told', p.stderr)
    check(run()[0] == 2 and run('draw')[0] == 2 and run('assess')[0] == 2, 'usage errors exit 2')
    check(run('assess', '--nonsense', 'x')[0] == 2, 'unknown option exits 2')
    check(run('--help')[0] == 0, '--help exits 0')

    # records: where bridges broke against where that was expected
    code, out, err = run('records', '--json', os.path.join(DEMO, 'QB-10.xml'), os.path.join(DEMO, 'QB-01.xml'))
    rows = objects(out)
    check(code == 0 and len(rows) == 2 and rows[0]['broke_connector'] == '46-47' and rows[0]['broke_zone'] == 'roof',
          'records: QB-10 broke at the roof of 46-47, as its sheet says', code, out, err)
    check(rows[-1]['cases'] == 2 and rows[-1]['records'] == 1 and rows[-1]['zone']['low_percent'] < rows[-1]['zone']['high_percent'],
          'records: hits with their band, cases without a record counted', out)
    code, out, err = run('records', os.path.join(DEMO, 'QB-10.xml'))
    check(code == 0 and '1 of 1' in out, 'records in words', code, out, err)
    code, out, err = run('records', '--json', DEMO)
    check(code == 0 and objects(out)[-1]['cases'] >= 10 and objects(out)[-1]['records'] == 1, 'records: a whole folder', code, out, err)
    off = write('off.xml', open(os.path.join(DEMO, 'QB-10.xml'), encoding='utf-8').read().replace('x="0.3" depth', 'x="30" depth'))
    code, out, err = run('records', off)
    check(code == 2 and re.search(r'off\.xml:\d+: .*46-47: .*off the sketch', err), 'records: an origin off the sketch is told with its line', code, err)

    # outline: U notches in a strip under pure bending, computed by two independent solvers for this project (0.5 %)
    for args, want in (((1, 1, 10), 2.281), ((1, .5, 10), 2.975), ((2.5, .6, 5.5), 1.981), ((3, 1.2, 7), 1.713),
                       ((1, 1, 10, True), 1.986), ((1.5, .6, 7, True), 1.923)):
        h, r, depth = args[:3]
        path = write('u.svg', shapes.u_notch_bar(h, r, depth, 4 * depth, *args[3:]))
        code, out, err = run('outline', path, '--bend', '1000', '--json')
        got = objects(out)[0] if code == 0 else {}
        check(near(got.get('factor'), want, 0.5), 'U %s: factor %g' % (args, want), code, out, err)
        check(near(got.get('neck_height_mm'), depth - h * len(args[2:]), 0.01), 'its neck', out)
        check(near(got.get('roof_radius_mm'), r, 1) and abs(got['peak_at_mm'][0]) < 0.2 * r and
              abs(got['peak_at_mm'][1] - (depth - h)) < 0.05 * r, 'its roof and the place of the peak', out)
        check(abs(got['factor'] / want - 1) * 100 <= got['error_percent'] + 0.1, 'within the error it shows', out)
    code, out, err = run('outline', path, '--bend', '1000', '--thickness', '2', '--json')
    check(near(objects(out)[0]['nominal_mpa'], got['nominal_mpa'] / 2, 0.001), 'half the stress at twice the thickness', out, err)
    check(list(got) == ['neck_height_mm', 'nominal_mpa', 'peak_mpa', 'factor', 'peak_at_mm', 'roof_radius_mm', 'nodes',
                        'error_percent', 'milliseconds'], 'keys of outline', list(got))
    code, out, err = run('outline', write('cross.svg', shapes.svg([('', 'M 0 0 L 10 5 L 10 0 L 0 5 Z')])), '--bend', '1')
    check(code == 2 and 'cross.svg' in err, 'a crossing silhouette exits 2', err)
    check(run('outline', write('open.svg', shapes.svg([('', 'M 0 0 L 10 5')])), '--bend', '1')[0] == 2, 'an open one too')
    check(run('outline', path)[0] == 2 and run('outline', path, '--bend', 'nan')[0] == 2, 'no moment exits 2')
    check(run('outline', path, '--bend', '1', '--thickness', '-1')[0] == 2, 'a negative thickness exits 2')

    # connector: converged solid values computed by two independent solvers for this project; solid 3 %
    for name, args, want, nominal in (('U 0.2', (.2, 0, 3.2, .8), 589.3, 198.9), ('U 0.6', (.6, 0, 3.2, 1.0), 359.9, 198.9),
                                      ('V60 0.2', (.2, 60, 3.2, .8), 588.3, 198.9), ('U 0.4 narrow', (.4, 0, 2.4, .8), 571.6, 265.3)):
        path = write('c.svg', shapes.connector(*args))
        code, out, err = run('connector', path, '--bend', '1000', '--plane', '--json')
        got = objects(out)[0] if code == 0 else {'solid': {}, 'plane': {}}
        check(near(got['plane'].get('peak_mpa'), want, 5) and list(got['plane']) == list(got['solid']),
              '%s: plane %g MPa' % (name, want), code, out, err)
        check(near(got['solid'].get('peak_mpa'), want, 3), '%s: solid %g MPa' % (name, want), code, out, err)
        check(near(got.get('nominal_mpa'), nominal, 0.1), '%s: M c / I' % name, out)
    code, out, err = run('connector', path, '--bend', '1000', '--json', '--fine')
    check(code == 0 and near(objects(out)[0]['solid']['peak_mpa'], 571.6, 1)
          and 0 < objects(out)[0]['solid']['seconds'] < 60, 'fine solid within 1 %', out, err)
    check(run('connector', path, '--bend', '1000', '--roundness', '2')[0] == 2, 'half a roundness exits 2')
    check(run('connector', write('three.svg', shapes.svg([('gingival', 'M -5 2 H 5')])), '--bend', '1')[0] == 2,
          'a missing outline exits 2')

    # a drawn section: triangle 3.2 x 4, base to the gum side: b h^3 / 36, b h^2 / 12 and / 24
    path = write('section.svg', shapes.connector(.6, 0, 3.2, 1.0, section='M 20 9 H 23 L 21.5 5 Z'))
    code, out, err = run('connector', path, '--bend', '1000', '--json')
    got = objects(out)[0] if code == 0 else {}
    check(near(got.get('i_mm4'), 3.2 * 64 / 36, 0.01) and near(got.get('w_gingival_mm3'), 3.2 * 16 / 12, 0.01)
          and near(got.get('w_occlusal_mm3'), 3.2 * 16 / 24, 0.01) and got['solid']['peak_mpa'] > 300, 'a drawn section', out, err)
    code, out, err = run('connector', path, '--bend', '1000', '--roundness', '2,4')
    check(code == 0 and 'drawn' in err, 'roundness beside a drawn section is told', err)
    for words, d in (('is open', 'M 20 9 H 23 L 21.5 5'), ('crosses itself', 'M 20 9 L 23 5 V 9 L 20 5 Z'),
                     ('hides', 'M 20 9 H 24 V 5 H 23.4 V 7 H 23.2 V 5 H 20 Z'), ('sliver', 'M 20 9 L 22 7.3 L 24 9 V 5 L 22 6.7 L 20 5 Z')):
        code, out, err = run('connector', write('bad.svg', shapes.connector(.6, 0, 3.2, 1.0, section=d)), '--bend', '1000')
        check(code == 2 and words in err and re.search(r'bad\.svg:\d+: ', err), 'a section that %s exits 2' % words, code, err)

    # proof: rows as the tests write them
    heading = 'test quantity source known expected got error_percent tolerance_percent ok'.split()

    def proof_folder(name, *rows):
        os.mkdir(os.path.join(folder, name))
        write(os.path.join(name, 'test_x.tsv'), ''.join('\t'.join(row) + '\n' for row in (heading, *rows)))
        return os.path.join(folder, name)
    last = ('/z/last', 'Länge', 'a book', 'read', '2', '2.01', '0.5', '1', 'yes')
    first = ('/a/first', 'area', 'geometry', 'exact', '12', '12', '0', '0.001', 'yes')
    off = ('/m/off', 'area', 'geometry', 'exact', '12', 'nan', 'nan', '0.001', 'no')
    code, out, err = run('proof', proof_folder('good', last, first))
    lines = out.splitlines()
    check(code == 0 and len(lines) == 4 and lines[1].startswith('/a/first') and lines[2].startswith('/z/last') and
          lines[3] == '2 checks, 0 outside their tolerance', 'proof: a table sorted by test, and its sum', code, out, err)
    check(lines[0].index('Source') == lines[1].index('geometry') == lines[2].index('a book'), 'its columns stand in line', out)
    code, out, err = run('proof', proof_folder('off', last, off))
    check(code == 1 and out.endswith('2 checks, 1 outside their tolerance\n') and 'NO' in out.splitlines()[1],
          'a row outside its tolerance exits 1', code, out, err)
    code, out, err = run('proof', '--json', os.path.join(folder, 'off'))
    rows = objects(out)
    check(code == 1 and [list(row) for row in rows] == [heading] * 2 and rows[0]['ok'] == 'no' and rows[0]['got'] is None and
          rows[1]['got'] == 2.01 and rows[1]['quantity'] == 'Länge', 'proof as JSON', code, out, err)
    for name, row in (('short', last[:8]), ('long', last + ('more',)), ('word', last[:5] + ('two',) + last[6:]),
                      ('maybe', last[:8] + ('maybe',))):
        code, out, err = run('proof', proof_folder(name, first, row))
        check(code == 2 and 'test_x.tsv' in err and 'line 3' in err and not out, 'a damaged row (%s) exits 2 with file and line' % name,
              code, out, err)
    write(os.path.join('short', 'test_x.tsv'), '\t'.join(heading) + '\n' + '\t'.join(first))
    code, out, err = run('proof', os.path.join(folder, 'short'))
    check(code == 2 and 'line 2' in err, 'a file cut short exits 2', code, out, err)
    write(os.path.join('short', 'test_x.tsv'), 'heading\n')
    check('line 1' in run('proof', os.path.join(folder, 'short'))[2], 'and so does a strange heading')
    code, out, err = run('proof', os.path.join(folder, 'nowhere'))
    check(code == 2 and 'nowhere' in err and 'Run the tests first' in err, 'no proof: what to do', code, out, err)
    check(run('proof', folder, folder)[0] == 2, 'two folders exit 2')

    # the best outline in a room
    path = os.path.join(DEMO, 'QB-02.xml')
    code, out, err = run('best', '--json', path, '35-36')
    row = (objects(out) or [{}])[0] if code == 0 else {}
    check(code == 0 and row.get('fall_low_percent', 0) > 10 and row['fall_low_percent'] < row['fall_percent'] < row['fall_high_percent'],
          'best: lower in the same room, with a band', code, out, err)
    check(near(row.get('fall_percent'), 100 * (1 - row.get('best_mpa', 0) / row.get('today_mpa', 1)), 1e-3) and row.get('solves', 0) > 10,
          'best: the fall is that of the two figures', out)
    kept = row.get('outline', '')
    again = write('best.xml', re.sub(r'<outline side="gingival" corners="\(-1.5[^>]*>', '<outline side="gingival" d="%s"/>' % kept, open(path).read()))
    best, worse = ([r for r in objects(run('assess', '--json', p)[1]) if r['connector'] == '35-36'] for p in (again, path))
    check(best and worse and near(best[0]['peak_mpa'], row['best_mpa'], 8) and best[0]['margin'] > 1.5 * worse[0]['margin'],
          'best: its outline in a case has the pull that was told within the bands, and carries more', best, worse)
    code, out, err = run('best', '--json', '--take-height', path, '35/36')
    check(code == 0 and objects(out)[0]['best_mpa'] < row.get('best_mpa', 0), 'best: with the height taken lower still', out, err)
    code, out, err = run('best', path, '35-36', LC_ALL='C.UTF-8', LANGUAGE='de')
    check(code == 0 and 'im selben Raum' in out, 'best: in German', out, err)
    check(run('best', path)[0] == 2 and '34-35' in run('best', path, '36-35')[2], 'best: an unknown connector is refused, with an example')
    big = write('brush.xml', open(path).read().replace('brush="1.1"', 'brush="3"'))
    code, out, err = run('best', big, '35-36')
    check(code == 1 and 'brush' in out, 'best: says what hinders it', code, out, err)
    room = write('room.xml', open(path).read().replace('<proposed neck-width="3.2"', '<room d="M -1.6 0 L -1.3 2.4 L 1.3 2.4 L 1.6 0"/>\n<proposed neck-width="3.2"'))
    code, out, err = run('best', '--json', room, '35-36')
    check(code == 0 and max(float(y) for y in re.findall(r'[\d.-]+ ([\d.-]+)', objects(out)[0]['outline'])) < 2.41, 'best: keeps to a drawn room', out, err)
    code, out, err = run('assess', write('badroom.xml', open(room).read().replace('M -1.6 0 L', 'M -1.6 0 Q')))
    check(code == 2 and '<room>' in err and re.search(r'badroom.xml:\d+: ', err), 'a wrong room is named with its line', err)

    # from the best connector to the drawn one
    code, out, err = run('assess', '--waterfall', '--json', os.path.join(DEMO, 'QB-03.xml'))
    for row in objects(out):
        fall = row['waterfall']
        steps = [s['step'] for s in fall['steps']]
        check(steps == 'height width radius section finish load time'.split(), 'waterfall has its steps', steps)
        check(near(math.prod(s['factor'] for s in fall['steps']) * fall['best_margin'], row['service']['margin'], 1e-4),
              'waterfall: the product is the whole', fall)
        check(all(s['factor_low'] <= s['factor'] <= s['factor_high'] for s in fall['steps']), 'waterfall: each factor in its band', fall)
    code, out, err = run('assess', '--json', os.path.join(DEMO, 'QB-03.xml'))
    check('waterfall' not in out, 'no waterfall unless asked for', out)
    code, out, err = run('assess', '--waterfall', os.path.join(DEMO, 'QB-03.xml'))
    check(out.count('of the best connector in this room') == 2 and 'Height 4.00 instead of' in out, 'waterfall in words', out)

    # report
    pdf = os.path.join(folder, 'out.pdf')
    code, out, err = run('report', os.path.join(DEMO, 'QB-02.xml'), '-o', pdf)
    check(code == 1 and open(pdf, 'rb').read(5) == b'%PDF-', 'report writes a PDF', code, err)
    text = subprocess.run(['pdftotext', pdf, '-'], capture_output=True, text=True).stdout
    check('QB-02' in text and '35/36' in text and 'dentist' in text, 'the paper names case, neck and cautions', text[:500])
    code, out, err = run('report', os.path.join(DEMO, 'QB-02.xml'), '-o', '/dev/full')
    check(code == 2 and '/dev/full' in err and 'choose another name' in err, 'a report to no regular file exits 2', err)

    def small_files():
        resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
    before = open(pdf, 'rb').read()
    p = subprocess.run([CLI, 'report', os.path.join(DEMO, 'QB-01.xml'), '-o', pdf], capture_output=True, text=True, timeout=120,
                       preexec_fn=small_files)  # SIGXFSZ as a shell leaves it
    check(p.returncode == 2 and 'not saved' in p.stderr and open(pdf, 'rb').read() == before and
          not [n for n in os.listdir(folder) if n.startswith('.soffit')],
          'a report that has no room leaves the old one whole and nothing beside it', p.returncode, p.stderr)
    check(run('report', os.path.join(DEMO, 'QB-02.xml'), '-o', '/proc/none/out.pdf')[0] == 2, 'no place for the paper exits 2')
    check(run('report', os.path.join(DEMO, 'QB-02.xml'))[0] == 2, 'no name for the paper exits 2')

plan()
