#!/usr/bin/env node
// Makes a checkout ready: packages, the command's link, the built screens; for tests also a browser and ngspice.
// Plain JavaScript without packages, because it runs before any are there, on whatever Node (20 or newer) the machine has.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, statSync, symlinkSync, writeFileSync,
} from 'node:fs';
import { delimiter, dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const local = join(root, '.local');
const purpose = process.argv[process.argv.indexOf('--for') + 1] ?? 'start';

/** Says one line a step, on standard error: standard output belongs to the program that follows. */
const say = (words) => process.stderr.write(`set-up: ${words}\n`);

function stop(words) {
  say(words);
  process.exit(1);
}

function run(command, args, options = {}) {
  return spawnSync(command, args, { cwd: root, stdio: ['ignore', 2, 2], shell: process.platform === 'win32', ...options });
}

function onPath(names) {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    for (const name of names) {
      const file = join(folder, name);
      if (existsSync(file) && statSync(file).isFile()) return file;
    }
  }
  return undefined;
}

/** One set-up at a time in a checkout. A lock whose process has gone is taken over. */
function takeLock() {
  mkdirSync(local, { recursive: true });
  const lock = join(local, 'set-up.lock');
  for (let waited = 0; ; waited += 1) {
    try {
      writeFileSync(lock, String(process.pid), { flag: 'wx' });
      process.on('exit', () => rmSync(lock, { force: true }));
      for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(130));
      return;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
    }
    const holder = Number(readOr(lock, '0'));
    let alive = true;
    try { process.kill(holder, 0); } catch (error) { alive = error.code === 'EPERM'; }
    // A lock just made may not hold its number yet: give it a moment before judging.
    if (!alive && (holder !== 0 || waited > 5)) rmSync(lock, { force: true });
    else {
      if (waited === 0) say(`waiting for the set-up that process ${holder} runs`);
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500);
    }
  }
}

function readOr(file, otherwise) {
  try { return readFileSync(file, 'utf8'); } catch { return otherwise; }
}

/** A digest of the names and contents of everything below the given paths. */
function digest(paths) {
  const hash = createHash('sha256');
  const visit = (path) => {
    if (!existsSync(path)) return;
    if (statSync(path).isDirectory()) {
      for (const name of readdirSync(path).sort()) visit(join(path, name));
    } else {
      hash.update(relative(root, path)).update('\0').update(readFileSync(path)).update('\0');
    }
  };
  paths.forEach((path) => visit(join(root, path)));
  return hash.digest('hex');
}

/** Runs a step when what it depends on has changed since it last succeeded. */
function whenChanged(name, paths, stillThere, step) {
  const stamp = join(local, `${name}.stamp`);
  const now = digest(paths);
  if (readOr(stamp, '') === now && stillThere()) return;
  step();
  writeFileSync(stamp, now);
}

function installPackages() {
  whenChanged('packages', ['package-lock.json'], () => existsSync(join(root, 'node_modules', '.package-lock.json')), () => {
    say('installing packages (once for each lock file; the database driver may take a minute to compile)');
    const done = run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error']);
    if (done.status !== 0) {
      stop(onPath(['c++', 'g++', 'cl.exe']) && onPath(['make', 'cl.exe']) && onPath(['python3', 'python.exe'])
        ? 'npm ci failed; its own words are above'
        : 'npm ci failed and no compiler is on this machine. On Debian: apt-get install -y build-essential python3');
    }
  });
  const node = nodeProgram();
  const driver = spawnSync(node, ['-e', "import('sqlite3')"], { cwd: root, stdio: 'ignore' });
  if (driver.status !== 0) {
    say('the database driver does not load: building it');
    if (run('npm', ['rebuild', 'sqlite3', '--loglevel=error']).status !== 0
      || spawnSync(node, ['-e', "import('sqlite3')"], { cwd: root, stdio: 'ignore' }).status !== 0) {
      stop('sqlite3 cannot be built. On Debian: apt-get install -y build-essential python3');
    }
  }
}

/** Node 24 comes as a package for most machines; elsewhere the machine's own has to strip types by itself. */
function nodeProgram() {
  const packaged = join(root, 'node_modules', '.bin', process.platform === 'win32' ? 'node.cmd' : 'node');
  if (existsSync(packaged)) return packaged;
  if (Number(process.versions.node.split('.')[0]) >= 24) return process.execPath;
  return stop(`no packaged Node for ${process.platform} ${process.arch}: install Node 24 or newer`);
}

/** npm links the commands of packages, not the project's own: `npx --no lugwright` finds this one. */
function linkCommand() {
  const target = join(root, 'api', 'cli', 'lugwright.ts');
  const link = join(root, 'node_modules', '.bin', 'lugwright');
  if (process.platform === 'win32') {
    writeFileSync(`${link}.cmd`, `@node "%~dp0\\..\\..\\api\\cli\\lugwright.ts" %*\r\n`);
    return;
  }
  if (!existsSync(link)) {
    rmSync(link, { force: true });
    symlinkSync(relative(dirname(link), target), link);
  }
  chmodSync(target, 0o755);
}

function buildScreens() {
  whenChanged('screens', ['ui', 'catalog-schema', 'api/engine', 'vite.config.ts', 'package-lock.json'],
    () => existsSync(join(local, 'ui', 'index.html')), () => {
      say('building the screens');
      const done = run(nodeProgram(), [join('node_modules', 'vite', 'bin', 'vite.js'), 'build', '--logLevel', 'warn'],
        { shell: false });
      if (done.status !== 0) stop('the screens do not build; the reason is above');
    });
}

function installDebianPackage(name) {
  if (!onPath(['apt-get'])) return false;
  const asRoot = process.getuid?.() === 0;
  const [command, prefix] = asRoot ? ['apt-get', []] : ['sudo', ['-n', 'apt-get']];
  if (!asRoot && !onPath(['sudo'])) return false;
  say(`installing Debian's ${name}`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  run(command, [...prefix, 'update', '-qq'], { env });
  return run(command, [...prefix, 'install', '-y', '-qq', '--no-install-recommends', name], { env }).status === 0;
}

const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

/** The browser for journeys: the machine's, else Debian's, else the test tool's own download. Its path goes into a file the tests read. */
function findBrowser() {
  const note = join(local, 'browser');
  rmSync(note, { force: true });
  let browser = onPath(BROWSERS);
  if (!browser && installDebianPackage('chromium')) browser = onPath(BROWSERS);
  if (browser) {
    writeFileSync(note, browser);
    return;
  }
  const tool = join(root, 'node_modules', '@playwright', 'test', 'cli.js');
  if (run(nodeProgram(), [tool, 'install', 'chromium'], { shell: false }).status === 0) {
    writeFileSync(note, 'bundled');
    return;
  }
  say('no browser to be had: the journeys will be reported as not run. On Debian: apt-get install -y chromium');
}

function findCircuitSimulator() {
  if (onPath(['ngspice'])) return;
  if (!installDebianPackage('ngspice')) say('no ngspice: its recorded results are compared, not computed again. On Debian: apt-get install -y ngspice');
}

takeLock();
installPackages();
linkCommand();
buildScreens();
if (purpose === 'test') {
  findBrowser();
  findCircuitSimulator();
}
