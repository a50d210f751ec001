import { useQuery } from '@tanstack/react-query'
import type { Rig } from '../../server/apiTypes.ts'

interface NamedCalibration {
  /** As `calibrationKey` makes it. */
  readonly key: string
  readonly name: string
  readonly unit: string
}

/** The calibrations of a rig, the newest first; what checks the document is loaded once there is one. */
export function useCalibrationsOf(rig: Rig | null): readonly NamedCalibration[] {
  const { data = [] } = useQuery({
    queryKey: ['calibrations of a rig', rig?.id, rig?.updatedAt],
    enabled: rig !== null,
    queryFn: () => (rig === null ? [] : calibrationsOf(rig)),
  })
  return rig === null ? [] : data
}

async function calibrationsOf({ name, document }: Rig): Promise<NamedCalibration[]> {
  const [{ parseRig }, { calibrationKey }, { calibrationName }] = await Promise.all([
    import('../../core/calibration/rig.ts'),
    import('../../core/calibration/chosen.ts'),
    import('../../core/calibration/rigScale.ts'),
  ])
  const rig = parseRig(JSON.stringify(document), name)
  if (!rig.ok) return []
  return rig.value.calibrations
    .map(one => ({ key: calibrationKey(one), name: calibrationName(one), unit: one.readingUnit }))
    .sort((a, b) => (a.key < b.key ? 1 : -1))
}
