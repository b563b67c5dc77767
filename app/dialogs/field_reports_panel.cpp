// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/field_reports_panel.h"

#include "app/commands/field_report_commands.h"
#include "app/commands/push_command.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/typed_values.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"
#include "core/geo/bearing.h"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QTableView>
#include <QVBoxLayout>

#include <type_traits>

namespace keyround {

FieldReportsPanel::FieldReportsPanel(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_model(new FieldReportModel(session, this)),
      m_table(new DataTable(QStringLiteral("reported-from-the-field"), this)),
      m_map(new MapWidget(session, this)), m_words(plainLabel({}, {}, this)),
      m_numberCaption(plainCaption(tr("Its number"), {}, this)), m_number(new QLineEdit(this)),
      m_why(new QLineEdit(this)), m_refusal(plainLabel({}, QStringLiteral("refusal"), this)),
      m_accept(new QPushButton(this)), m_refuse(new QPushButton(tr("Refuse it"), this))
{
    setWindowTitle(tr("Reported from the field"));
    m_table->setModel(m_model);
    m_table->setDefaultWidths({140, 210, 180, 270, 260, 110, 130, 240});
    m_table->setEmptyText(tr("No crew has reported anything. In the Truck, a stop offers to report "
                             "where the lid is, and \"not in the inventory\" drops a point for a "
                             "valve that nobody listed."));
    m_table->view()->setAccessibleName(tr("Reports from the field"));
    connect(m_table, &DataTable::selectionChanged, this, &FieldReportsPanel::refresh);
    connect(m_model, &QAbstractItemModel::modelReset, this, [this] {
        const int row = m_shown ? m_model->rowOf(*m_shown) : -1;
        if (row >= 0) {
            m_table->selectRow(row);
        }
        refresh();
    });

    auto *side = new QWidget(this);
    auto *column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(m_map, 1);
    column->addWidget(buildDecision());
    auto *splitter = new QSplitter(Qt::Horizontal, this);
    splitter->addWidget(m_table);
    splitter->addWidget(side);
    splitter->setSizes({720, 480});
    splitter->setChildrenCollapsible(false);
    rememberSplitter(splitter, QStringLiteral("field-reports"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(12, 12, 12, 12);
    layout->addWidget(splitter);
    chooseNextOpen();
    refresh();
}

FieldReportsPanel *FieldReportsPanel::openBeside(QWidget *owner, Session &session)
{
    QWidget *window = owner->window();
    auto *panel = window->findChild<FieldReportsPanel *>();
    if (panel == nullptr) {
        panel = new FieldReportsPanel(session, window);
        panel->setWindowFlag(Qt::Window);
        panel->resize(1280, 680);
    }
    panel->show();
    panel->raise();
    panel->activateWindow();
    return panel;
}

QWidget *FieldReportsPanel::buildDecision()
{
    auto *box = new QWidget(this);
    m_words->setObjectName(QStringLiteral("reportWords"));
    m_number->setObjectName(QStringLiteral("reportNumber"));
    m_number->setAccessibleName(tr("The number that the valve gets"));
    m_why->setObjectName(QStringLiteral("reportWhy"));
    m_why->setAccessibleName(tr("Why"));
    m_refusal->setObjectName(QStringLiteral("reportRefusal"));
    m_refusal->hide();
    m_accept->setObjectName(QStringLiteral("acceptReport"));
    m_accept->setProperty("role", QStringLiteral("primary"));
    m_refuse->setObjectName(QStringLiteral("refuseReport"));
    connect(m_accept, &QPushButton::clicked, this, [this] { decide(true); });
    connect(m_refuse, &QPushButton::clicked, this, [this] { decide(false); });
    auto *form = new QFormLayout;
    form->addRow(m_numberCaption, m_number);
    form->addRow(plainCaption(tr("Why")), m_why);
    auto *buttons = new QHBoxLayout;
    buttons->addWidget(m_accept, 1);
    buttons->addWidget(m_refuse);
    auto *column = new QVBoxLayout(box);
    column->setContentsMargins(0, 8, 0, 0);
    column->addWidget(m_words);
    column->addLayout(form);
    column->addWidget(m_refusal);
    column->addLayout(buttons);
    return box;
}

void FieldReportsPanel::refresh()
{
    const QList<int> rows = m_table->selectedRows();
    const auto chosen =
        rows.isEmpty() ? std::nullopt : std::optional(m_model->reportAt(rows.front()));
    const bool isOther = chosen != m_shown;
    m_shown = chosen;
    if (isOther) {
        m_why->clear();
        m_refusal->hide();
    }
    bool isOpen = false;
    if (m_shown) {
        std::visit(
            [&](const auto &id) {
                const auto *report = m_session.fieldReports().find(id);
                if (report == nullptr) {
                    return;
                }
                isOpen = decidedOf(report->decisions) == Decided::Open;
                if constexpr (std::is_same_v<std::decay_t<decltype(id)>, ProposalId>) {
                    showPlace(*report);
                } else {
                    if (isOther) {
                        m_number->setText(report->candidate.number);
                    }
                    showCandidate(*report);
                }
            },
            *m_shown);
    } else {
        m_words->setText(m_model->rowCount() == 0 ? QString() : tr("Choose a report."));
        m_map->setPreview({});
        m_map->setChosen({});
    }
    const bool isCandidate = m_shown && std::holds_alternative<CandidateId>(*m_shown);
    m_number->setVisible(isCandidate);
    m_numberCaption->setVisible(isCandidate);
    m_accept->setText(isCandidate ? tr("Take it into the inventory") : tr("Move the valve there"));
    for (QWidget *widget : std::initializer_list<QWidget *>{m_number, m_why, m_accept, m_refuse}) {
        widget->setEnabled(isOpen);
    }
}

void FieldReportsPanel::showPlace(const ReportedPlace &report)
{
    const PlaceProposal &proposal = report.proposal;
    const Valve *valve = m_session.valve(proposal.valve);
    const QString number = valve != nullptr ? valve->number : proposal.valve.text();
    QStringList lines;
    lines << (proposal.listed ? tr("Valve %1: the lid is %2 of where the map had it.")
                                    .arg(number, awayWords(*proposal.listed, proposal.proposed,
                                                           m_session.units()))
                              : tr("Valve %1 had no place on the map.").arg(number));
    if (proposal.listed) {
        lines << tr("The map had %1.").arg(placeText(*proposal.listed));
    }
    lines << tr("Proposed: %1 (%2).")
                 .arg(placeText(proposal.proposed), wordsFor(proposal.evidence, m_session.units()));
    if (!proposal.words.isEmpty()) {
        lines << tr("\"%1\"").arg(proposal.words);
    }
    m_words->setText(lines.join(QLatin1Char('\n')));
    std::vector<GeoPoint> points{proposal.proposed};
    if (proposal.listed) {
        points.push_back(*proposal.listed);
    }
    m_map->setChosen({proposal.valve});
    m_map->setPreview(points);
    m_map->showPoints(points);
}

void FieldReportsPanel::showCandidate(const ReportedValve &report)
{
    const ValveCandidate &candidate = report.candidate;
    QStringList lines{
        tr("A valve that the inventory does not have, at %1 (%2).")
            .arg(placeText(candidate.place), wordsFor(candidate.evidence, m_session.units()))};
    if (candidate.size.isKnown()) {
        lines << tr("Size: %1.").arg(sizeText(candidate.size, m_session.units()));
    }
    if (!candidate.words.isEmpty()) {
        lines << tr("\"%1\"").arg(candidate.words);
    }
    for (const CandidateNote &note : report.notes) {
        lines << tr("%1: \"%2\"").arg(note.by.person, note.words);
    }
    std::vector<GeoPoint> places;
    std::vector<const Valve *> placed;
    for (const Valve &valve : m_session.valves()) {
        if (valve.place.isValid() && valve.id.uuid != candidate.id.uuid) {
            places.push_back(valve.place);
            placed.push_back(&valve);
        }
    }
    if (const auto nearest = nearestPlace(candidate.place, places)) {
        lines << tr("The nearest listed valve is %1, %2 away: is it the same?")
                     .arg(placed[nearest->index]->number,
                          lengthText(nearest->away, m_session.units()));
    }
    m_words->setText(lines.join(QLatin1Char('\n')));
    m_map->setChosen({});
    m_map->setPreview({candidate.place});
    m_map->showPlace(candidate.place);
}

Status FieldReportsPanel::decideOn(const ProposalId &proposal, bool accepts)
{
    return pushCommand(m_session,
                       std::make_unique<DecidePlace>(m_session, proposal,
                                                     accepts ? Decided::Accepted : Decided::Refused,
                                                     m_why->text().trimmed()));
}

Status FieldReportsPanel::decideOn(const CandidateId &candidate, bool accepts)
{
    std::optional<Valve> becomes;
    if (const ReportedValve *report = m_session.fieldReports().find(candidate);
        report != nullptr && accepts) {
        becomes = valveFrom(*report);
        becomes->number = m_number->text().trimmed();
    }
    return pushCommand(m_session,
                       std::make_unique<DecideCandidate>(m_session, candidate, std::move(becomes),
                                                         m_why->text().trimmed()));
}

void FieldReportsPanel::decide(bool accepts)
{
    if (!m_shown) {
        return;
    }
    const auto report = *m_shown;
    const Status decided =
        std::visit([&](const auto &id) { return decideOn(id, accepts); }, report);
    m_refusal->setText(decided ? QString() : decided.error().message);
    m_refusal->setVisible(!decided);
    if (decided) {
        chooseNextOpen();
    }
}

void FieldReportsPanel::chooseNextOpen()
{
    // Those that wait stand first.
    if (m_model->rowCount() > 0) {
        m_table->selectRow(0);
    }
}

} // namespace keyround
