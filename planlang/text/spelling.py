"""How tidy text spells each word of the plan language, and what the other tokens are called."""

# One row a token: its name, and its spelling as it stands alone or after one / after any other number.
SPELLED = """
_PLAN plan
_FOR for
_AGED aged
_ABOUT about
_START starts
_LAST lasts
_ZONE zone
_WRITTEN written
_REVISION revision
_LANGUAGE language
_STATE state
DRAFT draft
_OPERATION operation
_WEIGHT_BEARING weight-bearing
_LIMITS limits
_JOINT joint / joints
HOT hot
SWOLLEN swollen
BEING_CHECKED being checked
_AWAY away
_CONTINUE continues
_SCREENING screening
_BY by
_CLEAR clear
YES yes
NO no
MODERATE moderate
VIGOROUS vigorous
WAITING waiting
_ASKED asked
_FALLS falls
_UNSTEADY unsteady
_FLOOR floor
UP_ALONE gets up alone
UP_WITH_HELP gets up with help
CANNOT cannot
_BLOOD_PRESSURE blood-pressure
_BONES bones
NO_FRAGILITY no known fragility
FRAGILE fragile
FRACTURE fracture
_TAKES takes
_GOOD good
_UNTIL until
_AGREED agreed
_CALENDAR calendar
_DIARY diary
FULL full
DISCREET discreet
NONE none
TODAY today
_OVER over
PRIVATE private
_HAS has
_BASE base
_TESTED tested
_ANEW anew
_WEIGHTS weights
_TELL tell
_US us
_GOAL goal
_BECAUSE because
_CONFIDENCE confidence
_DONE done
_CHANGED changed
_MEASURED measured
_SCORE score
_TARGET target
_REACH reach
_KEEP keep
_DO do
_REST rest
_ROOM room
_WHEN when
_BACK back
_ABOVE above
USUAL usual
_FIRST first
_AS as
_LITTLE little
_NEEDED needed
_STILL still
_NOTHING nothing
_RETURN return
_LOWER lower
_THE the
_SAME same
_EXPECT expect
_FLARE flare / flares
_IN in
_IN_WEEK in week
_LASTING lasting
_VARIES varies
LITTLE little
MUCH much
_LIGHTER lighter
_SPARE spare
_EMPTY empty
_LEAVE leave
_OUT out
_RED_FLAG red-flag
_PAIN pain
_ACCEPT accept
_UP up
_DURING during
_RISE rise
_OF of
_MOST most
_LEAST least
_SETTLE settle
_WITHIN within
NEXT_MORNING next morning
_NOT not
_IF if
_THEN then
_STOP stop
EMERGENCY emergency
TELL_US tell us
_EXERCISE exercise / exercises
_ACTIVITY activity
_KIND kind
_WORKS works
_TAGS tags
_HOW how
_CAREFUL careful
_HOLD hold
_ON on
ON on
_TO to
_WITH with
_EASIER easier
_BEGIN begin
_EVERY every
_ROUNDED rounded
BY_DATE by date
_PROGRESS progress
_AFTER after
_SESSION session / sessions
_CLEAN clean
_FROM from
_ONE one
_DOWN down
_STAY stay
_THIS this
_TRAINING training
_AT at
_AIM aim
_PAUSE pause
_WHILE while
_LEFT left
_RIGHT right
_FATIGUE fatigue
_BE be
_SET set
AS_TOLERATED as tolerated
EACH_SIDE each side
TWICE_A_DAY twice a day
ONCE_A_DAY once a day
_TIMES_A_DAY times a day
_EFFORT effort
_IN_RESERVE in reserve
_EASY easy
_HOLDING holding
_CLIMB climb
CHAIR chair
_TEMPO tempo
_RESTING resting
_AS_LONG_AS_A_SET as long as a set
_IN_BOUTS_OF in bouts of
_A a
ONCE once
TWICE twice
YOU_CHOOSE you choose
_SECOND second
_BETWEEN between
_PLACE place
_KIT kit
_WARM_UP warm-up
_COOL_DOWN cool-down
_CUE cue
DROP drop
MOVE_WITHIN move within the week
MOVE_ON move on
_ROUNDS rounds
_VISIT visit / visits
_TURN turn
_PREPARE prepare
_REVIEW review
_ALL all
_WAIVE waive
_LIBRARY library
_USE use
_LADDER ladder
_TEMPLATE template
_BLANK blank
TEXT text
_FILL fill
_CHANGE change
_EXCEPT except
_PART part
_EXTRA extra
_MISSED not done
_MOVED moved
_ILLNESS illness
_MORNING morning
_WALKED walked
_DID did
_KEPT kept
_TOLD told
_ACTED acted
_SIGN sign
_FELL fell
_GAVE_WAY gave way
_WORRY worry
_NOTE note
_NEW new
MEDICINE medicine
OPERATION operation
FLARE flare
ILLNESS illness
LIFE life
_BEFORE before
_REPORTED reported
WEEK week / weeks
DAY day / days
MONTH month / months
HOUR hour / hours
STEP step / steps
POINT point / points
SEC s
MIN min
KG kg
LB lb
KM km
MILE mile / miles
METRE m
CM cm
MM mm
DEGREE degree / degrees
INCH inch / inches
REPS rep / reps
STEPS_A_DAY steps/day
MIN_A_DAY min/day
MIN_A_WEEK min/week
DAYS_A_WEEK day/week / days/week
MMHG mmHg
SPEED m/s
PERCENT %
ONE_RM %1RM
HR_MAX %HRmax
"""

# Tokens that stand for many words: what they are, to a clinician.
SHAPES = {
    "SIDE": "left, right or both",
    "WEEKDAY": "a weekday like Mon",
    "DATE": "a date like 2027-03-01",
    "TIME": "a time like 07:30",
    "CODE": "a code like P-014",
    "RATING": "a rating like 4/10",
    "SETS": "sets like 3x8",
    "SETS_OPEN": "sets like 3x",
    "TEMPO_COUNT": "a tempo like 2-1-4",
    "RM": "a load like 12RM",
    "RANGE": "a range like 8-12",
    "NUMBER": "a number",
    "ZONE_NAME": "a time zone like Europe/London",
    "NAME": "a name",
    "STRING": "a text in double quotes",
    "_COMMA": "a comma",
    "_SEMICOLON": "a semicolon",
    "_NL": "the end of the line",
    "WS": "a space",
    "COMMENT": "a comment",
    "$END": "the end of the text",
}
