// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/repairs/request_card.h"

#include "app/commands/answer_commands.h"
#include "app/commands/repair_commands.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/repairs/repair_models.h"
#include "core/inventory/value_parsers.h"
#include "core/reports/repair_sheet.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

RequestCard::RequestCard(Session &session, const ProposalModel &proposals, QWidget *parent)
    : QFrame(parent), m_session(session), m_proposals(proposals),
      m_title(plainLabel({}, QStringLiteral("heading"), this)), m_facts(plainLabel({}, {}, this)),
      m_evidence(plainLabel({}, {}, this)), m_life(plainLabel({}, {}, this)),
      m_proposal(plainLabel({}, QStringLiteral("caution"), this)), m_yes(new QPushButton(this)),
      m_valve(new QPushButton(tr("The valve"), this)),
      m_hint(plainLabel(tr("Choose a request: what was seen, its life so far and what can be "
                           "written down next stand here."),
                        QStringLiteral("quiet"), this))
{
    setProperty("role", QStringLiteral("card"));
    setAccessibleName(tr("Repair request"));
    m_title->setObjectName(QStringLiteral("requestTitle"));
    m_facts->setObjectName(QStringLiteral("requestFacts"));
    m_life->setObjectName(QStringLiteral("requestLife"));
    m_proposal->setObjectName(QStringLiteral("requestProposal"));
    m_yes->setObjectName(QStringLiteral("requestYes"));
    m_yes->setProperty("role", QStringLiteral("primary"));
    m_valve->setToolTip(tr("Show the valve in the Yard"));
    m_steps = buildSteps();
    auto *head = new QHBoxLayout;
    head->addWidget(m_title, 1);
    head->addWidget(m_valve, 0, Qt::AlignTop);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(10, 8, 8, 8);
    layout->addLayout(head);
    layout->addWidget(m_proposal);
    layout->addWidget(m_yes);
    m_record = buildWords();
    layout->addWidget(m_hint);
    layout->addWidget(m_record, 1);
    layout->addWidget(m_steps);
    layout->addStretch();
    setMinimumWidth(360);
    connect(m_yes, &QPushButton::clicked, this, &RequestCard::decide);
    connect(m_valve, &QPushButton::clicked, this, [this] {
        if (const RepairRequest *request = m_session.repairs().request(m_request)) {
            Q_EMIT valveAsked(request->valve);
        }
    });
    refresh();
}

QWidget *RequestCard::buildWords()
{
    auto *content = new QWidget;
    auto *column = new QVBoxLayout(content);
    column->setContentsMargins(0, 0, 6, 0);
    column->addWidget(m_facts);
    column->addWidget(plainCaption(tr("What was seen"), QStringLiteral("entry"), content));
    column->addWidget(m_evidence);
    column->addWidget(plainCaption(tr("So far"), QStringLiteral("entry"), content));
    column->addWidget(m_life);
    column->addStretch(1);
    for (QLabel *label : {m_facts, m_evidence, m_life}) {
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    }
    auto *area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setWidget(content);
    return area;
}

QLineEdit *RequestCard::addLine(QFormLayout *form, const QString &label, const char *name)
{
    auto *line = new QLineEdit(this);
    line->setObjectName(QLatin1String(name));
    line->setAccessibleName(label);
    form->addRow(label, line);
    return line;
}

QPushButton *RequestCard::addStep(QLayout *row, const QString &words, const char *name,
                                  RepairStep step)
{
    auto *button = new QPushButton(words, this);
    button->setObjectName(QLatin1String(name));
    button->setProperty("role", QStringLiteral("small"));
    connect(button, &QPushButton::clicked, this, [this, step] { write(step); });
    row->addWidget(button);
    return button;
}

QWidget *RequestCard::buildSteps()
{
    auto *steps = new QWidget(this);
    auto *form = new QFormLayout;
    form->setContentsMargins(0, 0, 0, 0);
    m_day = addLine(form, tr("Day"), "stepDay");
    m_by = addLine(form, tr("By, or with"), "stepBy");
    m_words = addLine(form, tr("Work, or why"), "stepWords");
    m_day->setPlaceholderText(tr("2026-05-04"));
    m_replaced = new QCheckBox(tr("The valve was replaced"), this);
    m_replaced->setObjectName(QStringLiteral("stepReplaced"));
    form->addRow(QString(), m_replaced);
    auto *fresh = new QWidget(this);
    auto *freshForm = new QFormLayout(fresh);
    freshForm->setContentsMargins(0, 0, 0, 0);
    m_year = addLine(freshForm, tr("New valve: year"), "stepYear");
    m_turns = addLine(freshForm, tr("New valve: turns"), "stepTurns");
    m_size = addLine(freshForm, tr("New valve: size"), "stepSize");
    form->addRow(fresh);
    fresh->setVisible(false);
    connect(m_replaced, &QCheckBox::toggled, fresh, &QWidget::setVisible);
    m_refusal = plainLabel({}, QStringLiteral("refusal"), this);
    m_refusal->setObjectName(QStringLiteral("stepRefusal"));
    m_refusal->hide();
    auto *row = new QHBoxLayout;
    addStep(row, tr("Scheduled"), "stepScheduled", RepairStep::Scheduled);
    addStep(row, tr("Done"), "stepDone", RepairStep::Done);
    addStep(row, tr("Not to be done"), "stepWithdraw", RepairStep::Withdrawn);
    addStep(row, tr("Note"), "stepNote", RepairStep::Noted);
    auto *layout = new QVBoxLayout(steps);
    layout->setContentsMargins(0, 4, 0, 0);
    layout->addWidget(
        plainCaption(tr("Write down what comes next"), QStringLiteral("entry"), this));
    layout->addLayout(form);
    layout->addWidget(m_refusal);
    layout->addLayout(row);
    return steps;
}

void RequestCard::showRequest(const RequestId &request)
{
    if (!(request == m_request)) {
        m_request = request;
        clearLines();
    }
    refresh();
}

void RequestCard::clearLines()
{
    for (QLineEdit *line : {m_by, m_words, m_year, m_turns, m_size}) {
        line->clear();
    }
    m_day->setText(m_session.today().toString(Qt::ISODate));
    m_replaced->setChecked(false);
    refuse(nullptr, {});
}

void RequestCard::refresh()
{
    const std::vector<BacklogRow> rows =
        m_request.isNull() ? std::vector<BacklogRow>{} : backlogOf(m_session, true);
    const auto row =
        std::ranges::find(rows, m_request, [](const BacklogRow &each) { return each.request->id; });
    const bool isShown = row != rows.end();
    m_hint->setVisible(!isShown);
    for (QWidget *part : {static_cast<QWidget *>(m_valve), m_record, m_steps}) {
        part->setVisible(isShown);
    }
    if (!isShown) {
        m_title->setText(tr("No request chosen"));
        for (QLabel *label : {m_facts, m_evidence, m_life}) {
            label->clear();
        }
        m_proposal->hide();
        m_yes->hide();
        return;
    }
    m_steps->setVisible(row->request->isOpen());
    const RepairSheet sheet = repairSheet(*row, m_session.history(row->request->valve),
                                          m_session.shuts(), {}, m_session.units());
    m_title->setText(QStringLiteral("%1\n%2").arg(sheet.title, sheet.urgent));
    QStringList facts;
    for (const auto &[label, text] : sheet.facts) {
        facts << QStringLiteral("%1: %2").arg(label, text);
    }
    m_facts->setText(facts.join(QLatin1Char('\n')));
    QStringList evidence;
    for (QStringList cells : sheet.evidence.rows) {
        cells.removeAll(QString());
        evidence << cells.join(QStringLiteral("; "));
    }
    m_evidence->setText(evidence.join(QLatin1Char('\n')));
    m_life->setText(sheet.life.join(QLatin1Char('\n')));
    refreshProposal();
}

void RequestCard::refreshProposal()
{
    const std::vector<RepairProposal> &proposals = m_proposals.proposals();
    const auto mine = std::ranges::find_if(
        proposals, [this](const RepairProposal &each) { return each.request == m_request; });
    const bool isProposed = mine != proposals.end();
    m_proposal->setVisible(isProposed);
    m_yes->setVisible(isProposed);
    if (!isProposed) {
        return;
    }
    QString words = mine->words;
    words[0] = words[0].toUpper();
    m_proposal->setText(words);
    m_yes->setText(mine->kind == ProposalKind::Prove    ? tr("Yes, it is mended: close the request")
                   : mine->kind == ProposalKind::Reopen ? tr("Not mended: reopen the request")
                                                        : tr("Add this to the request"));
}

void RequestCard::decide()
{
    std::vector<RepairProposal> proposals = m_proposals.proposals();
    std::erase_if(proposals,
                  [this](const RepairProposal &each) { return !(each.request == m_request); });
    if (const auto taken = acceptProposals(m_session, proposals); !taken) {
        Q_EMIT m_session.notifier().failed(taken.error().message);
    }
}

void RequestCard::refuse(QLineEdit *line, const QString &why)
{
    for (QLineEdit *each : {m_day, m_by, m_words, m_year, m_turns, m_size}) {
        restyle(each, "refused", each == line);
    }
    m_refusal->setText(why);
    m_refusal->setVisible(!why.isEmpty());
    if (line != nullptr) {
        line->setFocus();
        line->selectAll();
    }
}

std::optional<RepairAnswer> RequestCard::typed(RepairStep step)
{
    RepairAnswer answer;
    answer.row = 1;
    answer.step = step;
    answer.by = m_by->text().trimmed();
    answer.words = m_words->text().trimmed();
    answer.isReplaced = m_replaced->isChecked() && step == RepairStep::Done;
    const auto read = [this](QLineEdit *line, auto parse, auto &target) {
        const auto value = parse(line->text().trimmed());
        if (!value) {
            refuse(line, value.error().message);
            return false;
        }
        if (value->has_value()) {
            target = **value;
        }
        return true;
    };
    const auto date = [](const QString &text) { return parseDate(text, {}); };
    const auto size = [](const QString &text) { return parseSize(text); };
    const bool isRead = read(m_day, date, answer.on) &&
                        (!answer.isReplaced || (read(m_year, parseYear, answer.installYear) &&
                                                read(m_turns, parseTurns, answer.turns) &&
                                                read(m_size, size, answer.size)));
    return isRead ? std::optional(answer) : std::nullopt;
}

void RequestCard::write(RepairStep step)
{
    const RepairRequest *request = m_session.repairs().request(m_request);
    std::optional<RepairAnswer> answer = request == nullptr ? std::nullopt : typed(step);
    if (!answer) {
        return;
    }
    answer->number = request->number;
    AnswerPlan plan = planAnswers(m_session.repairs(), {*answer}, QString(), m_session.today());
    if (plan.taken != 1) {
        QString why = plan.rows.front().words;
        why[0] = why[0].toUpper();
        refuse(step == RepairStep::Withdrawn ? m_words : m_day, why);
        return;
    }
    plan.source = tr("%1: %2").arg(request->number, wordFor(step));
    plan.isTyped = true;
    if (const Status written = applyAnswers(m_session, plan); !written) {
        refuse(m_day, written.error().message);
        return;
    }
    clearLines(); // the rest came anew with the notifier's word
}

} // namespace keyround
