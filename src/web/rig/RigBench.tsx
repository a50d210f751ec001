import { useState } from 'react'
import type { Study } from '../../server/apiTypes.ts'
import { useMark } from '../app/units.tsx'
import { Trouble } from '../data/trouble.ts'
import { Guard } from '../parts/Guard.tsx'
import { leadTo } from '../parts/leadTo.ts'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { CALIBRATE_ID, Calibrate } from './calibration/Calibrate.tsx'
import { useCalibrating } from './calibration/useCalibrating.ts'
import { Chain } from './chain/Chain.tsx'
import { LinkForm } from './chain/LinkForm.tsx'
import type { Link } from './chain/links.ts'
import { CheckPart } from './check/Check.tsx'
import { chartedChecks, isCheckedOn, localDay } from './check/checkNow.ts'
import { useChecking } from './check/useChecking.ts'
import { HealthPart } from './health/Health.tsx'
import { LinePart } from './line/LinePart.tsx'
import type { BenchLine } from './line/useLineNow.ts'
import { MASS_NAME_ID, Masses } from './masses/Masses.tsx'
import { kgText } from './masses/masses.ts'
import { useHouseMasses } from './masses/useHouseMasses.ts'
import { NEW_RIG_ID, RigChoice } from './RigChoice.tsx'
import { RigLine } from './RigLine.tsx'
import { Stiffness } from './stiffness/Stiffness.tsx'
import { useBenchRig } from './useBenchRig.ts'
import { useRigChange } from './useRigChange.ts'
import './rig.css'

const t = texts.rig

/** The chain, the masses, the calibration, the daily check and the stiffness of the rig on the bench. */
export function RigBench({ study, line }: { study: Study; line: BenchLine | null }) {
  const bench = useBenchRig(study)
  const mark = useMark()
  const { kept, rig } = bench
  const { change, error } = useRigChange()
  const [openLink, setOpenLink] = useState<Link | null>(null)
  const house = useHouseMasses()
  const calibrating = useCalibrating(kept, rig, house.masses, change)
  const mass = house.masses.get(bench.choice.checkMass ?? '') ?? house.list[0] ?? null
  const checking = useChecking(kept, rig, mass)
  if (bench.isLoading || checking.isLoading) return <p className="pencil">{texts.app.opening}</p>

  // What was read raw is pulled with by the scale of the rig.
  const onEnd = () => {
    if (line?.now.mode === 'raw') line.open('rig')
  }
  const last = chartedChecks(checking.checks).at(-1)
  return (
    <div className="rig">
      <RigLine
        state={{
          isDescribed: kept !== null,
          masses: house.list.length,
          isCalibrated: (rig?.calibrations.length ?? 0) > 0,
          isCheckedToday: isCheckedOn(
            // A new calibration asks for a check of its own.
            checking.checks.filter(check => check.calibration === (rig?.calibrations.at(-1)?.date ?? null)),
            localDay(new Date()),
          ),
          lastVerdict: last?.verdict ?? null,
        }}
        studyId={study.id}
        checkMass={mass && mark(t.massName(kgText(mass.kg), mass.name))}
        calibrating={calibrating}
        checking={checking}
        line={line}
        onDescribe={() => leadTo(NEW_RIG_ID)}
        onMasses={() => leadTo(MASS_NAME_ID)}
        onCalibrate={() => leadTo(CALIBRATE_ID)}
        onEnd={onEnd}
      />
      <RigChoice bench={bench} change={change} />
      {bench.problems.length > 0 && <Problems error={new Trouble(bench.problems)} />}
      <Problems error={error} />
      {kept && rig && (
        <>
          <Chain
            rig={rig}
            lineWords={line && line.now.mode !== 'closed' && line.now.mode !== 'away' ? line.now.name : null}
            open={openLink}
            onOpen={setOpenLink}
          />
          {openLink && (
            <LinkForm link={openLink} rig={kept} change={change}>
              {openLink === 'line' &&
                (line ? (
                  <>
                    <LinePart line={line} wish={line.now.mode === 'raw' ? 'raw' : 'rig'} isAsked />
                    {line.now.mode !== 'closed' && line.now.mode !== 'away' && (
                      <button type="button" className="button" onClick={line.close} disabled={line.isBusy}>
                        {t.closeLine}
                      </button>
                    )}
                  </>
                ) : (
                  <p>{t.noLineHere}</p>
                ))}
            </LinkForm>
          )}
          <Guard name={t.check}>
            <CheckPart
              checking={checking}
              rig={rig}
              masses={house.list}
              mass={mass}
              line={line}
              onMass={checkMass => bench.choose({ checkMass })}
            />
          </Guard>
          <Guard name={t.calibrate}>
            <Calibrate
              calibrating={calibrating}
              kept={kept}
              rig={rig}
              masses={house.list}
              line={line}
              change={change}
              onEnd={onEnd}
            />
          </Guard>
          <Guard name={texts.health.heading}>
            <HealthPart kept={kept} rig={rig} mass={mass} line={line} change={change} />
          </Guard>
          <Masses house={house} />
          <Guard name={t.stiffness}>
            <Stiffness kept={kept} rig={rig} change={change} />
          </Guard>
        </>
      )}
    </div>
  )
}
