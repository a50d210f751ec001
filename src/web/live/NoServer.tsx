import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { texts } from '../texts/index.ts'
import { webSerial } from './webSerial.ts'

const words = texts.pull.noServer

/** What the page that opens from disk cannot do by itself, and how to get it. */
export function NoServer() {
  return (
    <>
      {webSerial() === null && (
        <p className="trouble">
          {words.noSerial} <Link href={addressOf.import}>{texts.pull.toImport}</Link>
        </p>
      )}
      <details className="small">
        <summary>{words.summary}</summary>
        <p className="pencil">{words.what}</p>
        <p className="pencil">{words.how}</p>
      </details>
    </>
  )
}
