import { Component, type ReactNode } from 'react'
import { texts } from '../texts/index.ts'
import { Problems } from './Problems.tsx'

/** A part of the screen that fails is named and switched off; the rest goes on. */
export class Guard extends Component<{ name: string; children: ReactNode }, { error: unknown }> {
  override state = { error: null as unknown }

  static getDerivedStateFromError(error: unknown) {
    return { error }
  }

  override render() {
    if (this.state.error === null) return this.props.children
    return (
      <section>
        <p>{texts.app.screenFailed(this.props.name)}</p>
        <Problems error={this.state.error}>
          <button type="button" className="button" onClick={() => this.setState({ error: null })}>
            {texts.app.tryAgain}
          </button>
        </Problems>
      </section>
    )
  }
}
