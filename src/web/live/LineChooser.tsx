import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useId, useState } from 'react'
import { useRigs } from '../data/queries.ts'
import { Problems } from '../parts/Problems.tsx'
import { Field } from '../read/adjust/Field.tsx'
import { texts } from '../texts/index.ts'
import { CopyOnDisk } from './CopyOnDisk.tsx'
import { kindsOf, type LineChoice, type LineFault, PRETEND_PULLS } from './lineChoice.ts'
import { NoServer } from './NoServer.tsx'
import type { ChosenLine } from './useLineChoice.ts'
import { useLine } from './useLive.tsx'

const words = texts.pull

/** Which line the rig is at: a serial port of the server’s computer or of this one, a network line, or the pretend rig. */
export function LineChooser({ chosen, onOpen }: { chosen: ChosenLine; onOpen: () => void }) {
  const host = useLine()
  const name = useId()
  const { data: rigs } = useRigs()
  const { choice, change, faults } = chosen
  const field = (of: LineFault, label: string, inputMode?: 'decimal' | 'numeric') => (
    <Field
      label={label}
      value={choice[of]}
      fault={faults.includes(of) ? words.lineFaults[of] : null}
      onValue={value => change({ [of]: value })}
      isNeeded={!MAY_BE_EMPTY.has(of)}
      {...(inputMode && { inputMode })}
    />
  )
  return (
    <section className="pull-line" aria-labelledby={`${name}-heading`}>
      <h2 id={`${name}-heading`}>{words.lineHeading}</h2>
      <form
        onSubmit={event => {
          event.preventDefault()
          onOpen()
        }}
      >
        <fieldset className="pull-kinds">
          <legend className="hidden-words">{words.lineHeading}</legend>
          {kindsOf(host.kind).map(kind => (
            <label key={kind} className="pull-kind">
              <input
                type="radio"
                name={name}
                checked={choice.kind === kind}
                onChange={() => change({ kind })}
              />{' '}
              {host.kind === 'page' && kind === 'page' ? words.ownPort : words.lineKinds[kind]}
            </label>
          ))}
        </fieldset>
        <div className="pull-fields">
          {choice.kind === 'serial' && <SerialFields choice={choice} change={change} field={field} />}
          {choice.kind === 'page' && <PagePortFields field={field} />}
          {choice.kind === 'tcp' && (
            <>
              {field('host', words.lineFields.host)}
              {field('port', words.lineFields.tcpPort, 'numeric')}
            </>
          )}
          {choice.kind === 'pretend' && (
            <>
              <Field
                label={words.lineFields.pull}
                value={choice.pull}
                fault={null}
                onValue={pull => change({ pull })}
                options={PRETEND_PULLS.map(value => ({ value, text: value }))}
              />
              {field('seed', words.lineFields.seed, 'numeric')}
            </>
          )}
          <Field
            label={words.lineFields.rig}
            value={choice.rigId ?? ''}
            fault={null}
            onValue={rigId => change({ rigId: rigId === '' ? null : rigId })}
            options={[
              { value: '', text: words.lineFields.noRig },
              ...(rigs ?? []).map(rig => ({ value: rig.id, text: rig.name })),
            ]}
          />
          {field('capacityN', words.lineFields.capacityN, 'decimal')}
          {field('unit', words.lineFields.unit)}
        </div>
        {choice.kind === 'pretend' && <p className="pencil small">{words.pretendWhat}</p>}
        {choice.kind === 'page' && host.kind === 'server' && <p className="pencil small">{words.pageWhat}</p>}
        <button type="submit" className="button">
          {words.buttons.openLine}
        </button>
      </form>
      {host.copy && <CopyOnDisk copy={host.copy} />}
      {host.kind === 'page' && <NoServer />}
    </section>
  )
}

/** What a line can be opened without. */
const MAY_BE_EMPTY: ReadonlySet<LineFault> = new Set(['capacityN', 'unit'])

type FieldOf = (of: LineFault, label: string, inputMode?: 'decimal' | 'numeric') => ReactNode

function PagePortFields({ field }: { field: FieldOf }) {
  const { port } = useLine()
  const [name, setName] = useState<string | null>(null)
  const [error, setError] = useState<unknown>(null)
  return (
    <>
      {field('baud', words.lineFields.baud, 'numeric')}
      <div className="field">
        <button
          type="button"
          className="button"
          onClick={() => {
            setError(null)
            port.choose().then(setName, setError)
          }}
        >
          {words.choosePort}
        </button>
        {name !== null && <p className="pencil small">{words.portChosen(name)}</p>}
        <Problems error={error} />
      </div>
    </>
  )
}

function SerialFields({
  choice,
  change,
  field,
}: {
  choice: LineChoice
  change: (part: Partial<LineChoice>) => void
  field: FieldOf
}) {
  const { ports: list } = useLine()
  const { data, error, refetch } = useQuery({
    queryKey: ['ports'],
    queryFn: () => list?.() ?? null,
    retry: false,
  })
  const ports = data?.ports ?? []
  return (
    <>
      {ports.length > 0 && (
        <Field
          label={words.lineFields.port}
          value={ports.some(({ path }) => path === choice.path) ? choice.path : ''}
          fault={null}
          onValue={path => change({ path })}
          options={[
            { value: '', text: '–' },
            ...ports.map(({ path, manufacturer }) => ({
              value: path,
              text: manufacturer === null ? path : `${path} (${manufacturer})`,
            })),
          ]}
        />
      )}
      {field('path', words.lineFields.otherPort)}
      {field('baud', words.lineFields.baud, 'numeric')}
      <div className="field">
        {data && ports.length === 0 && data.problems.length === 0 && (
          <p className="pencil small">{words.noPorts}</p>
        )}
        {data?.problems.map(({ what, cure }) => (
          <p key={what} className="pencil small">
            {words.portsUntold(what)} {cure}
          </p>
        ))}
        <Problems error={error} />
        <button type="button" className="button" onClick={() => void refetch()}>
          {words.lookAgain}
        </button>
      </div>
    </>
  )
}
