import { existsSync } from 'node:fs'
import type { Gravity } from '../../core/units/gravity.ts'
import { type GravityFlags, gravityOfFlags } from '../gravityFlags.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { changeRig } from '../rigFile.ts'
import { tell } from '../tell.ts'

interface NewFlags extends GravityFlags {
  readonly name?: string
  readonly capacity?: number
  readonly ratedOutput?: number
  readonly rate?: number
  readonly sign?: '1' | '-1'
  readonly mmPerTurn?: number
  readonly mmPerSecond?: number
  readonly stroke?: number
}

/** Writes a rig file with what was told, in the order of the schema. */
export async function newRig(file: string, flags: NewFlags, io: Io): Promise<ExitCode> {
  if (existsSync(file))
    return tell(
      io,
      [
        {
          where: file,
          what: 'it is there already.',
          cure: 'Choose another name, or change the file itself.',
        },
      ],
      EXIT.output,
    )
  const place = gravityOfFlags(flags, null)
  if (!place.ok) return tell(io, place.problems, EXIT.input)
  const part = (entries: Record<string, number | undefined>) => {
    const told = Object.fromEntries(Object.entries(entries).filter(([, value]) => value !== undefined))
    return Object.keys(told).length > 0 ? told : undefined
  }
  const fields = {
    name: flags.name,
    cell: part({ capacityN: flags.capacity, ratedOutputMvPerV: flags.ratedOutput }),
    converter: part({ rateHz: flags.rate }),
    sign: flags.sign === undefined ? undefined : Number(flags.sign),
    drive: part({ mmPerTurn: flags.mmPerTurn, mmPerSecond: flags.mmPerSecond }),
    strokeMm: flags.stroke,
    gravity: gravityField(flags, place.value),
  }
  const told = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined))
  const written = await changeRig(file, rig => ({ ...rig, ...told, calibrations: [] }))
  if (!written.ok) return tell(io, written.problems, EXIT.output)
  io.out(`${file} is written. Next: calibrate it with \`tenterhook calibrate POINTS.csv --save ${file}\`.\n`)
  return EXIT.ok
}

function gravityField(flags: GravityFlags, { ms2, halfWidthMs2 }: Gravity): object | undefined {
  if (flags.latitude !== undefined) return { latitudeDeg: flags.latitude.deg, heightM: flags.height ?? 0 }
  return flags.gravity === undefined ? undefined : { ms2, halfWidthMs2 }
}
