// Holds statements.json against a validator that has nothing to do with this program, and writes what
// it found to result.json. It must also find the faults that are put in on purpose.
import { readFileSync, writeFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const { default: validate } = require('@learninglocker/xapi-validation');
const { version } = require('@learninglocker/xapi-validation/package.json');

const here = (name) => new URL(name, import.meta.url);
const statements = JSON.parse(readFileSync(here('statements.json'), 'utf8'));
const faultsOf = (statement) => validate(statement).map(String);

const faults = statements.flatMap((statement) =>
  faultsOf(statement).map((fault) => ({ id: statement.id, fault })));

// A validator that finds nothing wrong with anything proves nothing.
const scored = statements.find((statement) => statement.result?.score);
const spoilt = [
  (s) => { s.id = 'x'; },
  (s) => { s.result.score.scaled = 2; },
  (s) => { s.result.duration = '5 min'; },
  (s) => { s.timestamp = 'yesterday'; },
  (s) => { s.actor.account.homePage = 'home'; },
  (s) => { s.verb.id = 'passed'; },
  (s) => { s.context.registration = 'x'; },
  (s) => { s.context.extensions = { plain: 1 }; },
  (s) => { s.object.definition.name = 'First shift'; },
];
const missed = spoilt.filter((spoil) => {
  const bad = structuredClone(scored);
  spoil(bad);
  return faultsOf(bad).length === 0;
}).map(String);

// Which file this was: the version 5 UUID of its bytes below the namespace of URLs.
const digest = createHash('sha1')
  .update(Buffer.from('6ba7b8119dad11d180b400c04fd430c8', 'hex'))
  .update(readFileSync(here('statements.json')))
  .digest()
  .subarray(0, 16);
digest[6] = (digest[6] & 0x0f) | 0x50;
digest[8] = (digest[8] & 0x3f) | 0x80;

const result = {
  file: digest.toString('hex').replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-'),
  validator: `@learninglocker/xapi-validation ${version}`,
  statements: statements.length,
  faults,
  spoilt: spoilt.length,
  missed,
};
writeFileSync(here('result.json'), `${JSON.stringify(result, null, 2)}\n`);
console.log(result);
process.exit(faults.length + missed.length === 0 ? 0 : 1);
