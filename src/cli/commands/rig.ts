import { Command, InvalidArgumentError, Option } from 'commander'
import { GUIDED_STEPS, type GuidedStep, stepsNamed } from '../../core/health/guide.ts'
import { addGravityOptions } from '../gravityFlags.ts'
import type { ExitCode, Io } from '../io.ts'
import { hostAndPort, secondsUpTo } from '../lineOptions.ts'
import { addLogOptions, positive, shownUnit, wholeNumber } from '../logOptions.ts'
import { STORE_OPTION } from '../openStore.ts'
import { day, forceN, load, percent, tolerance, typedReading } from '../quantity.ts'

const EXAMPLES = `
Examples:
  tenterhook rig new rig.json --capacity 50kg --stroke 60 --latitude 52.1 --height 30
  tenterhook rig quick --rig rig.json --mass 1.000kg --reading 69630 --zero 50012
  tenterhook rig quick --rig rig.json --doubt 2% --reading-unit kgf
  tenterhook rig stiffness bar.csv --mm-per-second 0.5 --rig rig.json
  tenterhook rig settle overnight.csv
  tenterhook rig health --port /dev/ttyUSB0 --mass 2kg --rig rig.json --keep
  tenterhook rig health --free free.csv --hung hung.csv --mass 2kg --taps taps.csv --asked-rate 80
  tenterhook rig health pull-1.csv pull-2.csv --json
  tenterhook rig health --of "The old lathe"
  tenterhook rig show rig.json`

/** Each part loads its own code when it is asked for. */
export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command().description(
    'The rig itself: its description, a quick scale, its stiffness, its settling, its health.',
  )
  const part = (name: string) =>
    command.command(name).exitOverride().configureOutput({ writeOut: io.out, writeErr: io.err })

  addGravityOptions(
    part('new')
      .description('Begins a rig file.')
      .argument('<file>', 'file to write; one that is there is left alone')
      .option('--name <name>', 'what you call the rig')
      .option('--capacity <force>', 'capacity of the cell, as in 50kg or 500N', forceN)
      .option('--rated-output <mV/V>', 'rated output of the cell', positive)
      .option('--rate <hz>', 'readings a second of the converter', positive)
      .addOption(
        new Option('--sign <sign>', 'whether a pull raises (1) or lowers (-1) the reading').choices([
          '1',
          '-1',
        ]),
      )
      .option('--mm-per-turn <mm>', 'pitch of the drive', positive)
      .option('--mm-per-second <mm>', 'speed of the drive', positive)
      .option('--stroke <mm>', 'stroke', positive),
  ).action(async (file, flags) => {
    const { newRig } = await import('../rigParts/newRig.ts')
    done(await newRig(file, flags, io))
  })

  part('show')
    .description('Checks a rig file and says what is known of the rig.')
    .argument('<file>', 'rig file')
    .option('--json', 'the rig document, with its defaults')
    .action(async (file, flags) => {
      const { showRig } = await import('../rigParts/showRig.ts')
      done(await showRig(file, flags, io))
    })

  addGravityOptions(
    part('quick')
      .description('A scale without a calibration: by one known mass, or by a doubt that you state.')
      .requiredOption('--rig <file>', 'rig file to add it to; begun where there is none')
      .option('--mass <load>', 'the known mass or force, as in 1.000kg', load)
      .option('--mass-tolerance <limits>', 'limits ± of it, as in 0.1% or 1g', tolerance)
      .option('--reading <reading>', 'reading with the mass', typedReading)
      .option('--zero <reading>', 'reading of the empty hook', typedReading)
      .option('--reading-unit <unit>', 'unit of the readings (counts)')
      .option(
        '--doubt <percent>',
        'with a mass: limits ± for what one mass cannot tell (1 %); without: the scale’s doubt',
        percent,
      )
      .option('--date <day>', 'day of it (today)', day)
      .option('--json', 'the quick-scale document'),
  ).action(async flags => {
    const { quickRig } = await import('../rigParts/quickRig.ts')
    done(await quickRig(flags, io))
  })

  addLogOptions(
    part('stiffness')
      .description('Stiffness of grips, frame, drive and cell, from a pull on a bar that hardly gives.')
      .argument('<log>', 'log of that pull')
      .option('--rig <file>', 'rig whose calibration holds; the stiffness is added to it')
      .option('--travel <column>', 'channel of travel, by name (found where there is one)')
      .option('--mm-per-turn <mm>', 'the channel counts turns of this pitch', positive)
      .option('--mm-per-second <mm>', 'the drive runs at this speed; no channel is needed', positive)
      .option('--bar-stiffness <N/mm>', 'stiffness of the bar itself, to take off', positive)
      .option('--json', 'the figures as JSON'),
  ).action(async (log, flags) => {
    const { stiffnessOfRig } = await import('../rigParts/stiffnessOfRig.ts')
    done(await stiffnessOfRig(log, flags, io))
  })

  addLogOptions(
    part('settle')
      .description(
        'Warm-up from a log of the empty rig; how far the reading moves (creep) and the zero returns from one with a mass left hanging.',
      )
      .argument('<log>', 'log of the rig left alone')
      .option('--rig <file>', 'rig whose calibration holds')
      .option('--within <force>', 'what counts as settled, as in 0.05N', forceN)
      .option('--json', 'the figures as JSON'),
  ).action(async (log, flags) => {
    const { settleRig } = await import('../rigParts/settleRig.ts')
    done(await settleRig(log, flags, io))
  })

  addLogOptions(
    part('health')
      .description(
        'What is wrong with the rig, what it costs on a peak and what to do. It is found from a minute hanging free, a minute under a mass, three taps and a slow pull by hand. Record them one after another, or give them as logs; any other log will do too. Every step may be left out.',
      )
      .argument('[logs...]', 'ordinary logs: their rests are judged')
      .addOption(new Option('--port <name>', 'serial port to record the steps from').conflicts('tcp'))
      .option('--baud <rate>', 'its speed (115200 unless given)', wholeNumber(50))
      .option('--tcp <host:port>', 'network line to record the steps from', hostAndPort)
      .option('--steps <names>', 'which of free, mass, taps, pull, with commas between', steps, GUIDED_STEPS)
      .option('--step-seconds <s>', 'seconds of each step (60, 90, 15 and 40 unless given)', positive)
      .option(
        '--pause <s>',
        'seconds before each step, where there is no terminal to ask on',
        secondsUpTo(600),
        10,
      )
      .option('--logs-to <dir>', 'folder to leave the logs of the steps in')
      .option('--free <log>', 'a minute of the rig hanging free')
      .option('--hung <log>', 'empty for some seconds, then a mass hung and left for a minute, then off')
      .option('--mass <load>', 'that mass, as in 2kg', load)
      .option('--taps <log>', 'three taps on the free grip, some seconds apart')
      .option('--by-hand <log>', 'a slow pull by hand, and back')
      .addOption(new Option('--rig <file>', 'rig whose calibration, rate and cell hold').conflicts('of'))
      .option(
        '--of <rig>',
        'rig of the store, by name or id: the rests of its latest recordings are judged too',
      )
      .option(...STORE_OPTION)
      .option('--asked-rate <hz>', 'readings a second that the converter is set to', positive)
      .option('--within <force>', 'noise or drift that does not matter, as in 0.05N', forceN)
      .option('--show <unit>', 'unit to show forces in', shownUnit)
      .option('--keep', 'add what was found to the history of the rig named by --rig or --of')
      .option('--json', 'the health document'),
  ).action(async (logs, flags) => {
    const { rigHealth } = await import('../rigParts/rigHealth.ts')
    done(await rigHealth(logs, flags, io))
  })

  return command.addHelpText('after', EXAMPLES)
}

function steps(words: string): readonly GuidedStep[] {
  const named = stepsNamed(words)
  if (named === null) throw new InvalidArgumentError(`They are ${GUIDED_STEPS.join(', ')}.`)
  return named
}
