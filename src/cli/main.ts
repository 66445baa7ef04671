/** The command line: `girthwise inspect …` and `girthwise make …`. See `helpText` for the contract in words. */
import { parseLine, UsageError } from './arguments';
import { inspect } from './inspect';
import { type CommandIo, exit } from './io';
import { make } from './make';
import { StopError } from './sources';
import { helpText, inspectVerb, makeVerb } from './verbs';

/** @returns the exit status. Results go to `io.out`, findings and complaints to `io.error`. */
export async function main(args: readonly string[], io: CommandIo): Promise<number> {
  const [verb, ...rest] = args;
  if (verb === '--help' || verb === '-h' || verb === 'help' || rest.includes('--help')) {
    io.out(helpText());
    return exit.done;
  }
  try {
    switch (verb) {
      case 'inspect':
        return await inspect(parseLine(rest, inspectVerb), io);
      case 'make':
        return await make(parseLine(rest, makeVerb), io);
      case undefined:
        throw new UsageError('Say what to do: inspect or make.');
      default:
        throw new UsageError(`There is no command ${verb}: it is inspect or make.`);
    }
  } catch (error) {
    if (error instanceof UsageError) {
      io.error(`${error.message}\nSee girthwise --help.\n`);
      return exit.usage;
    }
    if (error instanceof StopError) {
      io.error(`${error.message}\n`);
      return exit.failed;
    }
    throw error;
  }
}
