// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/valve_site_form.h"

#include "app/commands/work_zone.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/plain_label.h"
#include "app/print/zone_files.h"
#include "core/workzone/set_up_words.h"

#include <QGridLayout>
#include <QLineEdit>
#include <QPushButton>

namespace keyround {

namespace {

QString captionOf(SiteQuestion question)
{
    switch (question) {
    case SiteQuestion::Lid:
        return QObject::tr("Where the lid is");
    case SiteQuestion::Speed:
        return QObject::tr("Speed*");
    case SiteQuestion::Setting:
        return QObject::tr("Kind of road*");
    case SiteQuestion::ShoulderWidth:
        return QObject::tr("Shoulder*");
    case SiteQuestion::OneWay:
        return QObject::tr("One-way*");
    case SiteQuestion::Lanes:
        return QObject::tr("Lanes, both ways*");
    case SiteQuestion::LaneWidth:
        return QObject::tr("Lane width*");
    case SiteQuestion::Divided:
        return QObject::tr("Divided*");
    case SiteQuestion::LowVolume:
        return QObject::tr("Low traffic*");
    case SiteQuestion::Sight:
        break;
    }
    return QObject::tr("Sight past the work");
}

QString countsOf(const SetUp &setUp)
{
    return QObject::tr("%1 cones, %2 signs, %3 flaggers, %4 people; %5 min to set up and as many "
                       "to take down.")
        .arg(setUp.cones)
        .arg(setUp.signs.size())
        .arg(setUp.flaggers)
        .arg(setUp.people)
        .arg(setUp.setUpMinutes, 0, 'f', 1);
}

} // namespace

ValveSiteForm::ValveSiteForm(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_street(plainLabel({}, {}, this)),
      m_headline(plainLabel({}, QStringLiteral("entry"), this)),
      m_counts(plainLabel({}, QStringLiteral("quiet"), this)),
      m_sheet(new QPushButton(tr("Work zone sheet (PDF)"), this))
{
    auto *grid = new QGridLayout(this);
    grid->setContentsMargins(8, 8, 8, 8);
    grid->setHorizontalSpacing(8);
    grid->setVerticalSpacing(5);
    grid->setColumnStretch(1, 1);
    m_street->setObjectName(QStringLiteral("siteStreet"));
    grid->addWidget(m_street, 0, 0, 1, 2);
    for (int i = 0; i < siteQuestionCount; ++i) {
        addField(grid, static_cast<SiteQuestion>(i));
    }
    m_headline->setObjectName(QStringLiteral("siteSetUp"));
    m_counts->setObjectName(QStringLiteral("siteCounts"));
    m_sheet->setObjectName(QStringLiteral("siteSheet"));
    connect(m_sheet, &QPushButton::clicked, this, &ValveSiteForm::saveSheet);
    const int row = grid->rowCount();
    grid->addWidget(m_headline, row, 0, 1, 2);
    grid->addWidget(m_counts, row + 1, 0, 1, 2);
    grid->addWidget(m_sheet, row + 2, 0, 1, 2, Qt::AlignLeft);
    grid->setRowStretch(row + 3, 1);
    Notifier &notifier = session.notifier();
    for (const auto change : {&Notifier::sitesChanged, &Notifier::settingsChanged,
                              &Notifier::layersChanged, &Notifier::valvesChanged}) {
        connect(&notifier, change, this, [this] { refresh(false); });
    }
    refresh(true);
}

void ValveSiteForm::addField(QGridLayout *grid, SiteQuestion question)
{
    const QString name = captionOf(question);
    auto *caption = plainLabel(name, QStringLiteral("quiet"), this);
    caption->setFixedWidth(124);
    caption->setMinimumHeight(30);
    caption->setAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    caption->setToolTip(plainToolTip(wordsFor(question)));
    const int row = grid->rowCount();
    grid->addWidget(caption, row, 0, Qt::AlignTop);
    Field field;
    const QString key = QStringLiteral("site-") + keyFor(question);
    if (takesNumber(question)) {
        field.line = new CheckedLine(
            wordsFor(question),
            [this, question](const QString &text) -> Status {
                if (text.trimmed().isEmpty()) {
                    return answer(question, std::nullopt);
                }
                const Result<double> value = readAnswer(question, text, m_session.units());
                return value ? answer(question, *value)
                             : Status(tl::unexpected<Error>(value.error()));
            },
            this);
        field.line->setObjectName(key);
        caption->setBuddy(field.line->line());
        grid->addWidget(field.line, row, 1);
    } else {
        field.choice = new CalmComboBox(this);
        field.choice->setObjectName(key);
        field.choice->setAccessibleName(wordsFor(question));
        field.choice->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        field.choice->setMinimumContentsLength(12);
        field.choice->addItem(tr("not known"));
        for (const SiteAnswer &each : answersTo(question, m_session.units())) {
            field.choice->addItem(each.words, each.value);
        }
        connect(field.choice, &QComboBox::activated, this, [this, question](int index) {
            const QVariant value =
                m_fields[static_cast<std::size_t>(question)].choice->itemData(index);
            const Status kept =
                answer(question, value.isValid() ? std::optional(value.toDouble()) : std::nullopt);
            if (!kept) {
                Q_EMIT m_session.notifier().failed(kept.error().message);
                refresh(false);
            }
        });
        caption->setBuddy(field.choice);
        grid->addWidget(field.choice, row, 1);
    }
    m_fields.push_back(field);
}

CheckedLine *ValveSiteForm::line(SiteQuestion question) const
{
    return m_fields[static_cast<std::size_t>(question)].line;
}

QComboBox *ValveSiteForm::choice(SiteQuestion question) const
{
    return m_fields[static_cast<std::size_t>(question)].choice;
}

void ValveSiteForm::showValve(const ValveId &valve)
{
    const bool isAnother = valve != m_valve;
    if (isAnother) {
        for (const Field &field : m_fields) { // what was typed belongs to the valve before
            if (field.line != nullptr) {
                field.line->commit();
            }
        }
    }
    m_valve = valve;
    refresh(isAnother);
}

void ValveSiteForm::refresh(bool isAnother)
{
    const Valve *valve = m_session.valve(m_valve);
    setEnabled(valve != nullptr);
    if (valve == nullptr) {
        m_street->setText(tr("No valve is chosen."));
        m_headline->clear();
        m_counts->clear();
        return;
    }
    const StopSite stop = siteFor(m_session, *valve);
    m_street->setText(tr("What is marked * holds for all of %1 and changes all its valves.")
                          .arg(stop.streetName));
    for (int i = 0; i < siteQuestionCount; ++i) {
        const auto question = static_cast<SiteQuestion>(i);
        const std::optional<double> known = answerIn(stop.known, question);
        const Field &field = m_fields[static_cast<std::size_t>(i)];
        if (field.choice != nullptr) {
            field.choice->setCurrentIndex(known ? std::max(0, field.choice->findData(*known)) : 0);
            continue;
        }
        const QString text = known ? answerText(question, *known, m_session.units()) : QString();
        if (isAnother) {
            field.line->reset(text);
        } else {
            field.line->setStored(text);
        }
        const std::optional<double> usual = answerIn({stop.usual, {}}, question);
        field.line->line()->setPlaceholderText(
            usual ? tr("not known; usual: %1").arg(answerText(question, *usual, m_session.units()))
                  : tr("not known"));
    }
    showSetUp();
}

/// A scroll area asks for the least height alone, which does not know of wrapped lines.
void ValveSiteForm::fitWords()
{
    const int width = contentsRect().width() - 16;
    for (QLabel *label : {m_street, m_headline, m_counts}) {
        label->setMinimumHeight(label->heightForWidth(width));
    }
}

void ValveSiteForm::resizeEvent(QResizeEvent *event)
{
    QWidget::resizeEvent(event);
    fitWords();
}

void ValveSiteForm::showSetUp()
{
    const Valve *valve = m_session.valve(m_valve);
    const Result<SetUp> setUp = setUpFor(m_session, *valve);
    m_sheet->setEnabled(setUp.has_value());
    if (!setUp) {
        m_headline->setText(tr("No set-up yet"));
        m_counts->setText(setUp.error().message);
        fitWords();
        return;
    }
    m_headline->setText(headlineOf(*setUp));
    QStringList words{countsOf(*setUp)};
    words += changeWords(*setUp);
    words << tr("Offered, not certified: the road authority's rules, the permit and the person on "
                "site decide.");
    m_counts->setText(words.join(QLatin1Char('\n')));
    fitWords();
}

Status ValveSiteForm::answer(SiteQuestion question, const std::optional<double> &value)
{
    const Valve *valve = m_session.valve(m_valve);
    return valve == nullptr ? Status{} : answerSite(m_session, *valve, question, value);
}

void ValveSiteForm::saveSheet()
{
    const Valve *found = m_session.valve(m_valve);
    if (found == nullptr) {
        return;
    }
    const Valve valve = *found;
    const QString path =
        chooseFileToSave(this, tr("Save the work zone sheet"),
                         tr("work-zone-%1.pdf").arg(valve.number), tr("PDF (*.pdf)"));
    if (!path.isEmpty()) {
        showOutcome(this, writeZoneSheet(m_session, valve, path),
                    tr("The work zone of valve %1 was written to %2.").arg(valve.number, path));
    }
}

} // namespace keyround
