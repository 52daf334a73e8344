#!/usr/bin/env node
/** Reads the word after `thawline`, finds its command; nothing else. */
import { runCommand } from './commands/index.js';

process.exitCode = await runCommand(process.argv.slice(2));
