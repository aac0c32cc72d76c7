/** The same ways at the command line, in a script: each job's JSON goes through jq into the next. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { ensureBundle } from '../../../scripts/lib/build.mjs';
import { inRoot } from '../../../scripts/lib/root.mjs';

const bundle = await ensureBundle('gripwright');
const folder = mkdtempSync(join(tmpdir(), 'gripwright-flows-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});
const has = (tool: string): boolean => spawnSync(tool, ['--version']).error === undefined;
const shell = has('bash') && has('jq');

/** Runs a script as a player keeps it; it stops at the first thing that fails. */
function run(script: string): string {
  const begin = `set -euo pipefail\ngripwright() { "${process.execPath}" "${bundle}" "$@"; }\nshared="${inRoot('shared')}"\n`;
  const { status, stdout, stderr } = spawnSync('bash', ['-c', begin + script], {
    cwd: folder,
    encoding: 'utf8',
  });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  return stdout.trim();
}

it.skipIf(!shell)('a chord, its third voicing, its tablature (needs bash and jq)', () => {
  const said = run(`
    third=$(gripwright voicings --chord 'C#m7' --json | jq -c '.voicings[2]')
    fret=$(jq -r .fret <<<"$third")
    grip=$(jq -r '.strings | map(tostring) | join("-")' <<<"$third")
    held=$(jq -r '.ways[0] | map(.id + (if .state == "half" then ":half" else "" end)) | join(",")' <<<"$third")
    gripwright arrange --chords 'C#m7' --locks "1=hold:$fret/$held/$grip" --ways 1 --out tab.txt --json |
      jq -r '.ways[0].steps[0].voicing.strings | map(tostring) | join("-")'
    echo "$grip"
    grep -c '|-*[0-9]' tab.txt`);
  const [arranged, asked, lines] = said.split('\n');
  expect(arranged).toBe(asked);
  expect(Number(lines)).toBeGreaterThanOrEqual(3);
});

it.skipIf(!shell)(
  'a free lever: the second answer, what it brings, what the strings say, on paper',
  () => {
    const said = run(`
    pulls=$(gripwright suggest --station RKV --strings-up-to 2 --json |
      jq -r '.best[1].pulls | map("\\(.string)\\(if .semitones > 0 then "+" else "" end)\\(.semitones)") | join(",")')
    gripwright change --with "RKV:$pulls" --json | jq -r '.gained.count, (.strings | map(select(.band == "beyond")) | length)'
    # the control goes into a setup file of the player's own
    jq --arg pulls "$pulls" '.name = "With the fourth knee" | .controls += [{
        id: "RKV", station: "RKV",
        pulls: ($pulls | split(",") | map(capture("(?<string>[0-9]+)(?<semitones>[-+][0-9]+)") | map_values(tonumber)))
      }]' "$shared/setups/e9.json" > mine.json
    gripwright check mine.json > /dev/null
    gripwright sheet --setup mine.json --out sheet.pdf > /dev/null
    head -c 5 sheet.pdf`);
    const [gained, beyond, head] = said.split('\n');
    expect(Number(gained)).toBeGreaterThan(0);
    expect(beyond).toBe('0');
    expect(head).toBe('%PDF-');
  },
);

it.skipIf(!shell)('two setups: one chord, and where it lies on the other', () => {
  const said = run(`
    gripwright compare e9 c6 --json > both.json
    symbol=$(jq -r '.onlyB.voicings[0].symbol' both.json)
    gripwright voicings --setup c6 --chord "$symbol" --json | jq -r '.count > 0'
    jq -r '.onlyB.voicings[0] | "fret \\(.fret), strings \\(.strings | map(tostring) | join("-"))"' both.json`);
  expect(said).toMatch(/^true\nfret \d+, strings [\d-]+$/u);
});

it.skipIf(!shell)('a song: best ways, one chord locked, saved as a score and on paper', () => {
  const said = run(`
    printf '{title: Rain on the tin roof}\\n[G]Rain on the [C]roof and the [D7]kettle is [G]on\\n' > song.cho
    free=$(gripwright arrange --file song.cho --ways 1 --json)
    fret=$(jq -r '.ways[0].steps[1].voicing.fret' <<<"$free")
    gripwright arrange --file song.cho --locks "2=fret:$fret" --ways 1 --out song.musicxml --json |
      jq -r --argjson free "$free" '.ways[0].total == $free.ways[0].total'
    gripwright arrange --file song.cho --locks "2=fret:$fret" --out song.pdf > /dev/null
    grep -o '<harmony' song.musicxml | wc -l | tr -d ' '
    head -c 5 song.pdf`);
  expect(said).toBe('true\n4\n%PDF-');
});

it.skipIf(!shell)(
  'tuning day: sweetened for my chords, with the numbers on the bench sheet',
  () => {
    const said = run(`
    gripwright tuning --chords 'E A B7' --json > tuned.json
    jq -r '(.residualAfter[0] < .residualBefore[0])' tuned.json
    jq --slurpfile tuned tuned.json '.name = "Tuned" | .necks[0].strings |= [
        to_entries[] | .key as $at | .value + {
          cents: ($tuned[0].targets[] | select(.control == null and .string == $at + 1) | .cents * 10 | round / 10)
        }]' "$shared/setups/e9.json" > tuned-setup.json
    gripwright tuning --setup tuned-setup.json --method saved --json |
      jq -r '.targets[] | select(.control == null and .string == 3) | .cents'
    jq -r '.targets[] | select(.control == null and .string == 3) | .cents * 10 | round / 10' tuned.json
    gripwright sheet --setup tuned-setup.json --out sheet.svg > /dev/null
    grep -c '<svg' sheet.svg`);
    const [better, saved, worked, sheets] = said.split('\n');
    expect(better).toBe('true');
    expect(saved).toBe(worked);
    expect(Number(saved)).toBeLessThan(-10);
    expect(sheets).toBe('1');
  },
);
