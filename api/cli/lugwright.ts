#!/usr/bin/env node
import { enableCompileCache } from 'node:module';

// Most of the time of a short command is reading its own source: keep it compiled. It has to be on before the rest is loaded.
enableCompileCache();
const { runCommandLine } = await import('./run-command-line.ts');
process.exitCode = await runCommandLine(process.argv.slice(2));
