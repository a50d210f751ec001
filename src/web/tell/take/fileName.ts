import { slug } from '../../../publish/package/slugs.ts'
import type { Told } from '../worker/types.ts'

/** `carrier-bag-handles-dots.svg`: a name that every system takes. */
export const fileName = ({ open }: Told, tail: string): string => `${slug(open.study.name, 'study')}${tail}`
