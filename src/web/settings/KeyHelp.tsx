import { texts } from '../texts/index.ts'

/** The keys, by where they do something. */
export const KeyHelp = () => (
  <section aria-labelledby="keys" className="settings-part">
    <h2 id="keys">{texts.settings.keys}</h2>
    {texts.settings.keyGroups.map(({ where, keys }) => (
      <div key={where}>
        <h3>{where}</h3>
        <dl className="settings-keys">
          {keys.map(([key, what]) => (
            <div key={key}>
              <dt>
                <kbd>{key}</kbd>
              </dt>
              <dd>{what}</dd>
            </div>
          ))}
        </dl>
      </div>
    ))}
  </section>
)
