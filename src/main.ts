#!/usr/bin/env node
/** Reads the word after `thawline`, finds its command; nothing else. */
import { runCommand } from './commands/index.js';

// nobody reads the output any more; whatever was answered is stored
process.stdout.on('error', () => process.exit(1));
process.exitCode = await runCommand(process.argv.slice(2));
