import { cli } from '#cli'
import { server } from '#server'

console.log(cli, server)
