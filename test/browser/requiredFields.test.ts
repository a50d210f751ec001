import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, demoSpecimenId, startApp } from './app.ts'
import { dropFiles } from './dropFiles.ts'

/** Every field that a form cannot be sent without is marked, for those who see it and for those who hear it. */

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp({ demo: true })
}, 240_000)
afterAll(() => app?.stop())

/** What is wrong with the marks of the fields on the page: one line a field. */
const wrongMarks = (page: Page): Promise<string[]> =>
  page.evaluate<string[]>(`(() => {
    const fields = [...document.querySelectorAll('input, textarea')]
      .filter(one => !['checkbox', 'radio', 'range', 'file', 'hidden'].includes(one.type))
    const nameOf = field => field.labels?.[0]?.textContent ?? field.getAttribute('aria-label') ?? field.id
    const isHeard = field => field.required || field.getAttribute('aria-required') === 'true'
    // The mark stands in the box of the field; of a form without boxes, in the form.
    const isSeen = field => {
      const box = field.closest('.field, .plan-dial')
      if (box) return box.querySelector('.needed') !== null
      return [...(field.form?.querySelectorAll('.needed') ?? [])].some(one => !one.closest('.field, .plan-dial'))
    }
    return fields.flatMap(field =>
      isHeard(field) === isSeen(field) ? [] : [nameOf(field) + (isHeard(field) ? ': heard, not seen' : ': seen, not heard')])
  })()`)

/** Sends every form of the page that stands open with its text fields empty; the fields that are refused and not marked. */
async function refusedUnmarked(page: Page): Promise<string[]> {
  const forms = page.locator('form:visible')
  const found: string[] = []
  for (let i = 0; i < (await forms.count()); i++) {
    const form = forms.nth(i)
    const fields = form.locator(
      'input:not([type=radio]):not([type=checkbox]):not([type=range]):visible, textarea:visible',
    )
    for (let f = 0; f < (await fields.count()); f++) await fields.nth(f).fill('')
    const marked = await form.locator('[required]:visible, [aria-required=true]:visible').count()
    // One that needs nothing would be sent: that is not what is looked at here.
    if (marked === 0) continue
    await form.locator('button[type=submit]').first().click()
    for (const invalid of await form.locator('[aria-invalid=true]').all()) {
      const isMarked = await invalid.evaluate(
        one => (one as { required?: boolean }).required || one.getAttribute('aria-required') === 'true',
      )
      if (!isMarked) found.push((await invalid.getAttribute('id')) ?? 'a field')
    }
  }
  return found
}

/** What is to be on the page, and the fields that cannot be left empty there. */
const PLACES: readonly {
  readonly title: string
  readonly place: (app: AppUnderTest) => Promise<string> | string
  readonly open?: (page: Page) => Promise<unknown>
  readonly needed: readonly RegExp[]
}[] = [
  {
    title: 'a new study',
    place: () => '/',
    open: page => page.getByRole('button', { name: 'New study' }).first().click(),
    needed: [/Name/],
  },
  { title: 'Settings', place: () => '/settings', needed: [] },
  {
    title: 'Plan',
    place: ({ demoId }) => `/study/${demoId}/plan`,
    open: unfold,
    needed: [/variant/i, /mode|way/i],
  },
  {
    title: 'Rig',
    place: ({ demoId }) => `/study/${demoId}/rig`,
    open: unfold,
    needed: [/Its name/, /rig/i, /^Mass in kg/],
  },
  {
    title: 'Pull',
    place: ({ demoId }) => `/study/${demoId}/pull`,
    open: async page => {
      const line = page.getByLabel('Network line')
      if (await line.count()) await line.check()
    },
    needed: [],
  },
  {
    title: 'Read',
    place: async one => `/study/${one.demoId}/read/${await demoSpecimenId(one, 'stitching-3')}`,
    open: async page => {
      await unfold(page)
      await page.getByRole('button', { name: 'Leave it out of the figures' }).first().click()
    },
    needed: [/[Ww]hy/],
  },
  { title: 'Compare', place: ({ demoId }) => `/study/${demoId}/compare`, open: unfold, needed: [] },
  {
    title: 'an import',
    place: () => '/',
    open: async page => {
      await dropFiles(page, [{ name: 'x.csv', text: 'time_s,force_N\n0,0\n1,0\n2,5\n3,0\n' }])
      await page.getByLabel('Name of the new study').waitFor()
    },
    needed: [/Name of the new study/],
  },
]

async function unfold(page: Page): Promise<void> {
  await page.locator('h1, h2').first().waitFor()
  await page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
}

test.each(PLACES)(
  '$title: what is needed is marked, and what is marked is needed',
  async ({ place, open, needed }) => {
    const watched = await app.open(await place(app))
    const { page } = watched
    await page.locator('main').first().waitFor()
    await open?.(page)
    expect(await wrongMarks(page)).toEqual([])
    const names = await page.locator('[required], [aria-required=true]').evaluateAll(all =>
      all.map(one => {
        const field = one as unknown as { labels?: { textContent: string }[] | null }
        return field.labels?.[0]?.textContent ?? one.getAttribute('aria-label') ?? ''
      }),
    )
    for (const name of needed)
      expect(
        names.some(one => name.test(one)),
        `${name} among ${names}`,
      ).toBe(true)
    expect(await refusedUnmarked(page)).toEqual([])
    await page.close()
  },
)
